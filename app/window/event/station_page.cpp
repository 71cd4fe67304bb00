#include "app/window/event/station_page.h"

#include <QFrame>
#include <QHBoxLayout>
#include <QInputDialog>
#include <QKeyEvent>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QShortcut>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>
#include <chrono>
#include <memory>

#include "app/event_qr/wristband.h"
#include "app/window/event/event_context.h"
#include "app/window/event/event_words.h"
#include "app/window/event/small_button.h"
#include "app/window/live_picture.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/read_qr.h"

namespace nearpoint {
namespace {

constexpr std::size_t kShown = 6;
constexpr int kWho = Qt::UserRole;  // of a list item: the id of a child; empty for a walk-up

QString Text(const std::string& text) { return QString::fromStdString(text); }

// Gives it the focus, and brings it, or the part of it that must be seen, into sight where large
// text leaves little room.
void Offer(QWidget* widget, QWidget* seen = nullptr) {
  widget->setFocus();
  if (seen == nullptr) seen = widget;
  QMetaObject::invokeMethod(
      seen,
      [seen] {
        for (QWidget* above = seen; above != nullptr; above = above->parentWidget()) {
          if (auto* const area = qobject_cast<QScrollArea*>(above)) {
            area->ensureWidgetVisible(seen);
          }
        }
      },
      Qt::QueuedConnection);
}

}  // namespace

StationPage::StationPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  const auto event = EventContext::Of(context());
  if (event) event_ = *event;
  SetHeading(tr("Who is next?"));
  if (event_ == nullptr || event_->desk() == nullptr) {
    SetLead(tr("There is no event on this computer yet."));
    body()->addStretch(1);
    SetNext(tr("Back"), PageId::kEvent);
    return;
  }
  event_->Refresh();
  event_->card.reset();  // the face of the child before
  MakeFinder();
  MakeConsent();
  MakeResume();
  MakeToday();
  MakeAsides();
  List();
  ShowInterrupted();
  ShowLink();
  ShowUnwritten();
  // What could not be written is tried again while somebody looks at it.
  constexpr std::chrono::seconds kAgain{2};
  auto* const again = new QTimer(this);
  connect(again, &QTimer::timeout, this, [this] {
    if (event_->unwritten() == 0) return;
    event_->WriteWhatIsLeft();
    ShowUnwritten();
    if (event_->unwritten() == 0 && !Asking()) List();
  });
  again->start(kAgain);
  if (EventLink* const link = event_->link()) {
    connect(link, &EventLink::Tried, this, [this] {
      ShowLink();
      if (event_->Refresh() && !Asking()) List();
    });
  }
  connect(&context().live, &Live::FrameArrived, this,
          [this](const LiveFrame& frame) { Look(frame.preview); });
  typed_->setFocus();
}

bool StationPage::Asking() const {
  return consent_->isVisible() || resume_->isVisible() || today_->isVisible();
}

StationPage::~StationPage() { context().live.Stop(); }

void StationPage::MakeFinder() {
  typed_ = new QLineEdit();
  typed_->setObjectName("typed");
  typed_->setFont(look::Large());
  typed_->setPlaceholderText(tr("a few letters of the name, the class, or the number"));
  typed_->setAccessibleName(tr("Name, class or number"));
  typed_->installEventFilter(this);
  body()->addWidget(typed_);
  said_ = parts::Text(QString(), "warm");
  said_->setObjectName("said");
  said_->hide();
  body()->addWidget(said_);
  unwritten_ = parts::Text(QString(), "stop");
  unwritten_->setObjectName("unwritten");
  body()->addWidget(unwritten_);
  scanner_ = new LivePicture();
  scanner_->setFixedSize(look::Art(320), look::Art(180));
  scanner_->hide();
  body()->addWidget(scanner_, 0, Qt::AlignHCenter);
  list_ = new QListWidget();
  list_->setObjectName("children");
  list_->setFont(look::Large());
  list_->setAccessibleName(tr("Children who match"));
  list_->setFocusPolicy(Qt::NoFocus);  // the arrows of the line above move in it
  list_->setWordWrap(true);
  list_->setMinimumHeight(look::Art(220));
  body()->addWidget(list_, 1);
  last_ = parts::Text(QString(), "quiet");
  last_->setObjectName("last");
  body()->addWidget(last_);
  link_ = parts::Text(QString(), "quiet");
  link_->setObjectName("link");
  body()->addWidget(link_);
  connect(typed_, &QLineEdit::textChanged, this, [this] { List(); });
  connect(list_, &QListWidget::itemActivated, this, &StationPage::Take);
  connect(list_, &QListWidget::itemClicked, this, [this] { asked_again_ = false; });
  QPushButton* const next = SetNext(tr("Measure"));
  next->setObjectName("measure");
  connect(next, &QPushButton::clicked, this, &StationPage::Take);
}

void StationPage::MakeConsent() {
  consent_ = parts::Card(tr("Consent before measuring"));
  consent_who_ = parts::Text(QString());
  parts::LayoutOf(consent_)->addWidget(consent_who_);
  const struct {
    const char* name;
    QString title;
    bool given;
    const char* how;
  } answers[] = {{"consent_form", tr("The signed form is here"), true, "form"},
                 {"consent_present", tr("A parent is here and agrees"), true, "parent present"},
                 {"consent_refused", tr("Refused: this child is not measured"), false, "refused"}};
  for (const auto& answer : answers) {
    QPushButton* const choice = parts::Choice(answer.title, QString());
    choice->setObjectName(answer.name);
    parts::LayoutOf(consent_)->addWidget(choice);
    connect(choice, &QPushButton::clicked, this,
            [this, given = answer.given, how = answer.how] { Consent(given, how); });
  }
  consent_->hide();
  body()->insertWidget(body()->indexOf(list_), consent_);
}

void StationPage::MakeResume() {
  resume_ = parts::Card(tr("Begun here and not finished"));
  resume_->setObjectName("resume");
  resume_who_ = parts::Text(QString());
  parts::LayoutOf(resume_)->addWidget(resume_who_);
  const struct {
    const char* name;
    QString title, line;
    bool go_on;
  } answers[] = {{"go_on", tr("Go on"), tr("The rounds that were finished count."), true},
                 {"afresh", tr("From the beginning"),
                  tr("If it was another child, or much has happened in between."), false}};
  for (const auto& answer : answers) {
    QPushButton* const choice = parts::Choice(answer.title, answer.line);
    choice->setObjectName(answer.name);
    parts::LayoutOf(resume_)->addWidget(choice);
    connect(choice, &QPushButton::clicked, this,
            [this, go_on = answer.go_on] { Begin(asked_again_, go_on); });
  }
  resume_->hide();
  body()->insertWidget(body()->indexOf(list_), resume_);
}

// No answer is chosen beforehand and Return answers nothing: the volunteer has to read it.
void StationPage::MakeToday() {
  today_ = parts::Card(tr("Ask before measuring"));
  today_->setObjectName("today");
  today_->setFocusPolicy(Qt::StrongFocus);
  today_->setAccessibleName(tr("Ask before measuring"));
  today_who_ = parts::Text(QString());
  parts::LayoutOf(today_)->addWidget(today_who_);
  // What must be read stands next to the answers: large text leaves little more in sight.
  parts::LayoutOf(today_)->addWidget(
      parts::Text(tr("Yes means: not measured, call the person in charge."), "quiet"));
  const QString question = tr(
      "Ask: Pain in or behind the eyes? A new headache? A blow to the head? Seeing two? A squint "
      "that is treated?");
  today_->setAccessibleDescription(question);
  parts::LayoutOf(today_)->addWidget(parts::Text(question));
  const struct {
    const char* name;
    QString title;
    std::vector<Qt::Key> keys;
    bool well;
  } answers[] = {{"today_no", tr("No (N)"), {Qt::Key_N}, true},
                 {"today_yes", tr("Yes (Y)"), {Qt::Key_Y, Qt::Key_J}, false}};
  // Beside each other at any size of text: neither may lie below the edge.
  auto* const row = new QHBoxLayout();
  for (const auto& answer : answers) {
    QPushButton* const choice = SmallButton(answer.title, answer.name);
    row->addWidget(choice, 1);
    const auto act = [this, well = answer.well] {
      if (!today_->isVisible()) return;
      if (well) {
        Begin(anyway_, go_on_, true);
      } else {
        NotToday();
      }
    };
    connect(choice, &QPushButton::clicked, this, act);
    for (const Qt::Key key : answer.keys) {
      auto* const shortcut =
          new QShortcut(key, today_, nullptr, nullptr, Qt::WidgetWithChildrenShortcut);
      shortcut->setAutoRepeat(false);
      connect(shortcut, &QShortcut::activated, this, act);
    }
  }
  parts::LayoutOf(today_)->addLayout(row);
  today_->hide();
  body()->insertWidget(body()->indexOf(list_), today_);
}

void StationPage::NotToday() {
  const ChildState* const child = Chosen();
  if (child == nullptr) return;
  const QString who = words::ForChild(*child);
  const auto noted = event_->Write(
      [uuid = child->uuid](EventDesk& desk) { return desk.Stop(uuid, StopReason::kCaution); });
  event_->Nudge();
  typed_->clear();
  List();
  ShowUnwritten();
  const bool safe = noted || event_->unwritten() > 0;
  Say(safe ? tr("%1 is not measured. Call the person in charge.").arg(who)
           : words::ForError(noted.error()),
      "stop");
}

void StationPage::ShowInterrupted() {
  const auto children = event_->desk()->Interrupted();
  if (children.empty()) return;
  const ChildState* const child = event_->desk()->state().Find(children.front());
  Say(tr("%1 was being measured here when it stopped. Return goes on.")
          .arg(words::ForChild(*child)),
      "warm");
}

void StationPage::MakeAsides() {
  const auto shortcut = [this](QPushButton* button, const QKeySequence& keys,
                               void (StationPage::*act)()) {
    connect(button, &QPushButton::clicked, this, act);
    connect(new QShortcut(keys, this), &QShortcut::activated, this, act);
  };
  // What is needed most stays in sight at the foot of the window.
  const auto aside = [this](const QString& text, const char* name) {
    QPushButton* const button = AddAside(text);
    button->setObjectName(name);
    return button;
  };
  shortcut(aside(tr("Undo last (Ctrl+Z)"), "undo"), QKeySequence::Undo, &StationPage::UndoLast);
  shortcut(aside(tr("Swap two (Ctrl+W)"), "swap"), QKeySequence(Qt::CTRL | Qt::Key_W),
           &StationPage::Swap);
  shortcut(aside(tr("Wristband (F2)"), "scan"), QKeySequence(Qt::Key_F2), &StationPage::Scan);
  auto* const row = parts::NewRow();
  const auto add = [row](QPushButton* button) {
    row->addWidget(button);
    return button;
  };
  connect(add(SmallButton(tr("Absent"), "absent")), &QPushButton::clicked, this,
          [this] { Leave(static_cast<int>(StopReason::kAbsent)); });
  connect(add(SmallButton(tr("Does not want to"), "declined")), &QPushButton::clicked, this,
          [this] { Leave(static_cast<int>(StopReason::kDeclined)); });
  connect(add(SmallButton(tr("Cannot do it"), "unable")), &QPushButton::clicked, this,
          [this] { Leave(static_cast<int>(StopReason::kUnable)); });
  shortcut(add(SmallButton(tr("Hand over (Ctrl+H)"), "hand_over")),
           QKeySequence(Qt::CTRL | Qt::Key_H), &StationPage::HandOver);
  row->addStretch(1);
  body()->insertLayout(body()->indexOf(last_), row);
}

void StationPage::List() {
  asked_again_ = false;
  // Before the focused button goes: the focus would wander to any other.
  if (Asking()) typed_->setFocus();
  consent_->hide();
  resume_->hide();
  today_->hide();
  said_->hide();
  list_->clear();
  const std::string typed = typed_->text().trimmed().toStdString();
  const EventState& state = event_->desk()->state();
  // A scanner that types like a keyboard.
  if (const auto band = ReadWristband(typed, state.uuid)) {
    if (band->of_this_event) {
      typed_->setText(Text(band->number));
    } else {
      Say(tr("This wristband is of another event."), "warm");
    }
    return;
  }
  std::vector<const ChildState*> found;
  // Whoever was interrupted here comes first; nobody has to be found twice.
  if (typed.empty()) {
    for (const Uuid& child : event_->desk()->Interrupted()) found.push_back(state.Find(child));
  }
  for (const ChildState* child : FindChildren(state, typed, kShown)) {
    if (std::ranges::find(found, child) == found.end()) found.push_back(child);
  }
  for (const ChildState* child : found) {
    auto* item = new QListWidgetItem(words::ForChild(*child) + "\n" +
                                     words::ForStage(*child, event_->store().station()));
    item->setData(kWho, Text(child->uuid));
    list_->addItem(item);
  }
  const bool number =
      !typed.empty() && std::ranges::all_of(typed, [](char c) { return c >= '0' && c <= '9'; });
  if (number && state.FindNumber(typed) == nullptr) {
    list_->addItem(tr("New: a child of whom the number %1 is all that is known").arg(Text(typed)));
  }
  list_->setCurrentRow(0);
  const auto last = event_->desk()->LastKept();
  last_->setText(last ? tr("Last here: %1").arg(words::ForChild(*state.Find(last->second)))
                      : tr("Nobody has been measured here yet."));
}

const ChildState* StationPage::Chosen() const {
  const QListWidgetItem* const item = list_->currentItem();
  if (item == nullptr) return nullptr;
  return event_->desk()->state().Find(item->data(kWho).toString().toStdString());
}

void StationPage::Take() {
  if (event_ == nullptr || list_->currentItem() == nullptr) {
    if (event_ != nullptr) Say(tr("Nobody on the list matches."), "warm");
    return;
  }
  const ChildState* child = Chosen();
  if (child == nullptr) {
    const auto added = event_->desk()->AddWalkUp(typed_->text().trimmed().toStdString());
    if (!added) {
      Say(words::ForError(added.error()), "stop");
      return;
    }
    List();
    child = Chosen();
    if (child == nullptr) return;
  }
  if (!swap_with_.empty()) {
    const auto swapped = event_->Write(
        [one = swap_with_, other = child->uuid](EventDesk& desk) { return desk.Swap(one, other); });
    swap_with_.clear();
    event_->Nudge();
    typed_->clear();
    List();
    Say(swapped ? tr("The two have changed places.") : words::ForError(swapped.error()),
        swapped ? "soft" : "warm");
    return;
  }
  if (!child->consent) {
    consent_who_->setText(words::ForChild(*child));
    consent_->show();
    Offer(consent_->findChild<QPushButton*>("consent_form"));
    return;
  }
  Begin(asked_again_);
}

void StationPage::Begin(bool anyway, std::optional<bool> go_on, bool well) {
  // What is not on disk yet may be that this very child needs looking after.
  if (!event_->WriteWhatIsLeft()) {
    ShowUnwritten();
    return;
  }
  const ChildState* const child = Chosen();
  if (child == nullptr) return;
  const Uuid uuid = child->uuid;
  const int open = event_->desk()->OpenTrials(uuid);
  const bool may = MayStart(*child, event_->store().station(), anyway).has_value();
  if (may && open > 0 && !go_on) {
    resume_who_->setText(words::ForChild(*child) + '\n' +
                         tr("%n round(s) are safe on this computer.", nullptr, open));
    resume_->show();
    Offer(resume_->findChild<QPushButton*>("go_on"));
    return;
  }
  if (may && !well) {
    anyway_ = anyway;
    go_on_ = go_on;
    said_->hide();
    resume_->hide();
    consent_->hide();
    today_who_->setText(words::ForChild(*child));
    today_->show();
    Offer(today_, today_->findChild<QPushButton*>("today_yes"));
    return;
  }
  const auto started = event_->desk()->Start(uuid, anyway, go_on.value_or(false));
  if (!started) {
    const bool may_insist = started.error().code == ErrorCode::kMismatch;
    // In the window's language where it is a matter of the queue.
    const QString stage = words::ForStage(*child, event_->store().station());
    const bool queue = may_insist || started.error().code == ErrorCode::kInsufficient;
    Say((queue ? words::ForChild(*child) + ": " + stage + "." : words::ForError(started.error())) +
            (may_insist ? ' ' + tr("Return once more measures all the same.") : QString()),
        "warm");
    asked_again_ = may_insist;
    return;
  }
  event_->Nudge();
  event_->child = uuid;
  event_->go_on = go_on.value_or(false);
  event_->since.start();
  emit Wanted(PageId::kStationChild);
}

void StationPage::Consent(bool given, const char* how) {
  const ChildState* const child = Chosen();
  if (child == nullptr) return;
  const int row = list_->currentRow();
  const auto taken = event_->Write([uuid = child->uuid, given, how](EventDesk& desk) {
    return desk.TakeConsent(uuid, given, how);
  });
  if (!taken) {
    ShowUnwritten();
    Say(words::ForError(taken.error()), "stop");
    return;
  }
  event_->Nudge();
  List();
  list_->setCurrentRow(row);
  if (given) {
    Begin(false);
  } else {
    typed_->clear();
    typed_->setFocus();
  }
}

void StationPage::UndoLast() {
  // Acts are written in their order, so the last child is still the last when this one is tried
  // again.
  const auto who = std::make_shared<Uuid>();
  const auto undone = event_->Write([who](EventDesk& desk) -> Result<void> {
    auto last = desk.UndoLast();
    if (!last) return tl::unexpected(last.error());
    *who = *last;
    return {};
  });
  event_->Nudge();
  typed_->clear();
  List();
  if (!undone) {
    Say(words::ForError(undone.error()), "warm");
    return;
  }
  Say(tr("Taken back: %1 waits again.").arg(words::ForChild(*event_->desk()->state().Find(*who))),
      "soft");
}

void StationPage::Swap() {
  const ChildState* const child = Chosen();
  if (child == nullptr) return;
  swap_with_ = child->uuid;
  const QString who = words::ForChild(*child);
  typed_->clear();
  List();
  Say(tr("Swap %1 with whom? Find the other child and press Return.").arg(who), "soft");
}

void StationPage::HandOver() {
  bool given = false;
  const QString name = QInputDialog::getText(this, tr("Hand over"), tr("Who goes on?"),
                                             QLineEdit::Normal, QString(), &given);
  if (!given) return;
  const auto handed =
      event_->Write([to = name.toStdString()](EventDesk& desk) { return desk.HandOver(to); });
  event_->Nudge();
  Say(handed ? tr("From now on: %1").arg(name.simplified()) : words::ForError(handed.error()),
      handed ? "soft" : "warm");
}

void StationPage::Leave(int reason) {
  const ChildState* const child = Chosen();
  if (child == nullptr) return;
  const auto left = event_->Write([uuid = child->uuid, reason](EventDesk& desk) {
    return desk.Stop(uuid, static_cast<StopReason>(reason));
  });
  event_->Nudge();
  typed_->clear();
  List();
  ShowUnwritten();
  if (!left && event_->unwritten() == 0) Say(words::ForError(left.error()), "stop");
}

void StationPage::Scan() {
  if (context().live.running()) {
    context().live.Stop();
    scanner_->hide();
    return;
  }
  scanner_->SetWord(tr("The camera is starting ..."));
  scanner_->show();
  context().live.Start(context().open_source(context()));
}

void StationPage::Look(const QImage& mirrored) {
  if (mirrored.isNull()) return;
  scanner_->SetImage(mirrored);
  const auto text = ReadMirroredQr(mirrored);
  if (!text) return;
  context().live.Stop();
  scanner_->hide();
  typed_->setText(*text);
  if (Chosen() != nullptr) Take();
}

void StationPage::Say(const QString& sentence, const char* role) {
  said_->setProperty("role", role);
  said_->setStyleSheet(said_->styleSheet());  // the role decides the colours
  said_->setText(sentence);
  said_->show();
}

void StationPage::ShowUnwritten() {
  unwritten_->setText(words::ForUnwritten(*event_));
  unwritten_->setVisible(event_->unwritten() > 0);
}

void StationPage::ShowLink() {
  if (event_->link() != nullptr) link_->setText(words::ForLink(event_->link()->status()));
  if (event_->practice()) {
    link_->setText(tr("Practice: these children are simulated, and each is difficult in its way."));
  }
}

bool StationPage::eventFilter(QObject* watched, QEvent* event) {
  if (watched == typed_ && event->type() == QEvent::KeyPress) {
    auto* const press = static_cast<QKeyEvent*>(event);
    const int key = press->key();
    // The line would take it for its own undo.
    if (press->matches(QKeySequence::Undo)) {
      UndoLast();
      return true;
    }
    if (key == Qt::Key_Down || key == Qt::Key_Up) {
      const int row = list_->currentRow() + (key == Qt::Key_Down ? 1 : -1);
      if (row >= 0 && row < list_->count()) list_->setCurrentRow(row);
      asked_again_ = false;
      return true;
    }
  }
  return Page::eventFilter(watched, event);
}

}  // namespace nearpoint
