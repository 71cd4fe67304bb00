#include "app/window/event/event_page.h"

#include <QFileDialog>
#include <QFormLayout>
#include <QFrame>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/event/totals.h"
#include "app/event_store/event_delete.h"
#include "app/event_store/event_server.h"
#include "app/window/event/event_context.h"
#include "app/window/event/event_words.h"
#include "app/window/event/small_button.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {

EventPage::EventPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetHeading(tr("School event"));
  const auto event = EventContext::Of(context());
  if (!event) {
    body()->addWidget(parts::Text(words::ForError(event.error()), "stop"));
    body()->addStretch(1);
    AddAside(tr("Back"), PageId::kHome);
    return;
  }
  event_ = *event;
  event_->Refresh();
  event_->card.reset();
  const EventDesk* const desk = event_->desk();
  if (desk == nullptr) {
    SetLead(
        tr("There is no event on this computer yet. Begin one, or connect to the computer that "
           "has it."));
  } else {
    const Totals totals = TotalsOf(desk->state());
    SetLead(tr("%1, %2: %3 children listed, %4 measured.")
                .arg(QString::fromStdString(desk->state().event.name),
                     QString::fromStdString(desk->state().event.day))
                .arg(totals.listed)
                .arg(totals.measured));
    Lead("station", tr("Measure children"), tr("Find a child, measure it, next one."),
         PageId::kStation);
  }
  if (!event_->practice()) {
    if (desk != nullptr) {
      Lead("roster", tr("Read the list of children"),
           tr("A file from the school's office (CSV, xlsx, ods). Every mistake in it is shown by "
              "its "
              "row."),
           PageId::kEventRoster);
      Lead("after", tr("After the event"),
           tr("Who needs what, letters to the parents, numbers, and deleting everything."),
           PageId::kEventAfter);
    }
    Lead("set_up", desk == nullptr ? tr("Begin an event") : tr("Begin another event"),
         tr("Its name, its day, and what counts as beyond the limit."), PageId::kEventSetUp);
    MakeDeletionCard();
    MakeStationCard();
  }
  body()->addStretch(1);
  QPushButton* const practice =
      AddAside(context().practice ? tr("Leave practice") : tr("Practise with difficult children"));
  practice->setObjectName("practice");
  connect(practice, &QPushButton::clicked, this, [this] {
    context().practice = !context().practice;
    emit Wanted(PageId::kEvent);
  });
  AddAside(tr("Back"), context().person ? PageId::kHome : PageId::kWelcome);
}

void EventPage::Lead(const char* name, const QString& title, const QString& line, PageId page) {
  QPushButton* const choice = parts::Choice(title, line);
  choice->setObjectName(name);
  connect(choice, &QPushButton::clicked, this, [this, page] { emit Wanted(page); });
  body()->addWidget(choice);
}

void EventPage::MakeStationCard() {
  QFrame* const card = parts::Card(tr("This station"));
  auto* form = new QFormLayout();
  form->setRowWrapPolicy(QFormLayout::WrapLongRows);
  form->setHorizontalSpacing(look::Px(16));
  const auto line = [&](const char* setting, const QString& title, const QString& hint) {
    auto* edit = new QLineEdit(event_->store().Setting(setting), card);
    edit->setObjectName(setting);
    edit->setFont(look::Body());
    edit->setPlaceholderText(hint);
    edit->setAccessibleName(title);
    form->addRow(parts::Text(title), edit);
    return edit;
  };
  name_ = line("name", tr("Its name"), tr("such as: table at the window"));
  volunteer_ = line("volunteer", tr("Who measures"), tr("a first name is enough"));
  server_ = line("server", tr("The event's server"), tr("empty: this station alone"));
  parts::LayoutOf(card)->addLayout(form);
  auto* row = parts::NewRow();
  QPushButton* const connect_button = SmallButton(tr("Save and connect"), "connect");
  connect(connect_button, &QPushButton::clicked, this, &EventPage::Connect);
  row->addWidget(connect_button);
  QPushButton* const join = SmallButton(tr("Join with the server's file ..."), "join");
  join->setToolTip(
      tr("station.json, which the server's laptop wrote: address, password and the "
         "certificate by which this station knows the server."));
  connect(join, &QPushButton::clicked, this, [this] {
    const QString file =
        QFileDialog::getOpenFileName(this, tr("The server's file"), QString(), "JSON (*.json)");
    if (!file.isEmpty()) Join(file);
  });
  row->addWidget(join);
  row->addStretch(1);
  parts::LayoutOf(card)->addLayout(row);
  link_ = parts::Text(QString(), "quiet");
  parts::LayoutOf(card)->addWidget(link_);
  body()->addWidget(card);
  ShowLink();
  if (EventLink* const link = event_->link()) {
    connect(link, &EventLink::Tried, this, [this] {
      ShowLink();
      ShowDeletion();
      const bool had_none = event_->desk() == nullptr;
      // An event that arrived from the server opens the page anew.
      if (event_->Refresh() && had_none && event_->desk() != nullptr) emit Wanted(PageId::kEvent);
    });
  }
}

void EventPage::MakeDeletionCard() {
  const auto deletions = Deletions(event_->store().database());
  if (!deletions || deletions->empty()) return;
  QFrame* const card = parts::Card(tr("The event that was deleted last"));
  deletion_ = parts::Text(QString());
  deletion_->setObjectName("deletion");
  parts::LayoutOf(card)->addWidget(deletion_);
  body()->addWidget(card);
  ShowDeletion();
}

void EventPage::ShowDeletion() {
  if (deletion_ == nullptr) return;
  const auto deletions = Deletions(event_->store().database());
  if (!deletions || deletions->empty()) return;
  const auto places = WhereDeleted(event_->store().database(), deletions->front());
  if (!places) return;
  QStringList lines;
  bool everywhere = true;
  for (const DeletedAt& place : *places) {
    const QString name =
        place.name.empty() ? tr("a station without a name") : QString::fromStdString(place.name);
    const bool done = !place.done_at.empty();
    everywhere = everywhere && done;
    lines << (done ? "✓ " + tr("%1: deleted, and nothing found afterwards").arg(name)
                   : "! " + tr("%1: not yet; it deletes as soon as it connects").arg(name));
  }
  lines.prepend(everywhere ? tr("Deleted on every station.") : tr("Not deleted everywhere yet."));
  const int unsealed = UnsealedOnServer(event_->store().database(), deletions->front()).value_or(0);
  if (!event_->store().Setting("server").isEmpty()) {
    lines << (unsealed == 0
                  ? tr("The server never had a name: its copy was sealed, and the key is destroyed "
                       "with each station's records.")
                  : "! " + tr("An older version had handed %n record(s) to the server unsealed: "
                              "erase the server's folder (app/event-server erase).",
                              nullptr, unsealed));
  }
  deletion_->setText(lines.join('\n'));
}

void EventPage::Connect() {
  const std::pair<const char*, QLineEdit*> settings[] = {{"name", name_},
                                                         {"volunteer", volunteer_}};
  Result<void> set;
  for (const auto& [setting, edit] : settings) {
    if (set) set = event_->store().SetSetting(setting, edit->text().trimmed());
  }
  // The address that a file brought keeps its certificate.
  const QString address = server_->text().trimmed();
  if (set && address != event_->store().Setting("server")) {
    set = SetServer(event_->store(), address, QString());
  }
  if (!set) link_->setText(words::ForError(set.error()));
  event_->Nudge();
}

void EventPage::Join(const QString& file) {
  const auto joined = JoinServer(event_->store(), file);
  if (!joined) {
    link_->setText(words::ForError(joined.error()));
    return;
  }
  server_->setText(event_->store().Setting("server"));
  Connect();
}

void EventPage::ShowLink() {
  if (event_->link() != nullptr) link_->setText(words::ForLink(event_->link()->status()));
}

}  // namespace nearpoint
