#include "app/window/event/event_after_page.h"

#include <QFileDialog>
#include <QFrame>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/event/totals.h"
#include "app/event_export/export_event.h"
#include "app/event_export/letters_pdf.h"
#include "app/event_store/event_delete.h"
#include "app/event_store/event_server.h"
#include "app/records/atomic_file.h"
#include "app/window/event/event_context.h"
#include "app/window/event/event_words.h"
#include "app/window/event/small_button.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {
namespace {

QString Text(const std::string& text) { return QString::fromStdString(text); }

}  // namespace

EventAfterPage::EventAfterPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent) {
  SetHeading(tr("After the event"));
  AddAside(tr("Back"), PageId::kEvent);
  const auto event = EventContext::Of(context());
  if (event) event_ = *event;
  said_ = parts::Text(QString(), "soft");
  said_->setObjectName("said");
  said_->hide();
  body()->addWidget(said_);
  if (event_ == nullptr || event_->desk() == nullptr) {
    SetLead(tr("There is no event on this computer yet."));
    body()->addStretch(1);
    return;
  }
  event_->Refresh();
  SetLead(tr("For the organiser alone: this page shows results."));
  MakeNumbers();
  MakeLookedAfter();
  MakeConflicts();
  MakeSharedNumbers();
  MakeList();
  MakeFiles();
  MakeEnd();
  body()->addStretch(1);
}

void EventAfterPage::MakeNumbers() {
  const Totals totals = TotalsOf(event_->desk()->state());
  QFrame* const card = parts::Card(tr("Numbers"));
  const auto add = [card](const QString& line) {
    parts::LayoutOf(card)->addWidget(parts::Text(line));
  };
  add(tr("%1 children listed, %2 measured: %3 within the limit, %4 to see a professional, %5 to be "
         "measured again, %6 without a number.")
          .arg(totals.listed)
          .arg(totals.measured)
          .arg(totals.within)
          .arg(totals.see_professional)
          .arg(totals.again)
          .arg(totals.no_number));
  if (totals.look_after > 0) {
    add("! " +
        tr("Need looking after: %1, of them measured: %2; they count under no other finding.")
            .arg(totals.look_after)
            .arg(totals.look_after_measured));
  }
  add(tr("Not measured: %1 waiting, %2 paused, %3 absent, %4 did not want to, %5 could not be "
         "measured, "
         "%6 need looking after, %7 refused.")
          .arg(totals.waiting)
          .arg(totals.paused)
          .arg(totals.absent)
          .arg(totals.declined)
          .arg(totals.unable)
          .arg(totals.caution)
          .arg(totals.refused));
  add(tr("%1 rounds, %2 of them do not count. Half of the children took less than %3 seconds.")
          .arg(totals.trials)
          .arg(totals.trials_set_aside)
          .arg(qRound(totals.median_seconds)));
  for (const AgeRow& row : totals.by_age) {
    const QString age =
        row.ages == "unknown" ? tr("Age unknown") : tr("Age %1").arg(Text(row.ages));
    add(tr("%1: %2 listed, %3 measured, %4 to see a professional, %5 again")
            .arg(age)
            .arg(row.children)
            .arg(row.measured)
            .arg(row.see_professional)
            .arg(row.again));
  }
  for (const std::string& line : event_->desk()->state().contradictions)
    add("! " + words::ForSentence(line));
  body()->addWidget(card);
}

void EventAfterPage::MakeLookedAfter() {
  for (const ChildState& child : event_->desk()->state().children) {
    if (!child.needs_looking_after()) continue;
    QFrame* const card = parts::Card(tr("Needs looking after: %1").arg(words::ForChild(child)));
    parts::LayoutOf(card)->addWidget(parts::Text(
        tr("Its letter asks the parents to have it examined, whatever was measured, and no station "
           "measures it. Take this back only if it was pressed by mistake."),
        "quiet"));
    QPushButton* const back = SmallButton(tr("It was a mistake: take it back"), "take_back");
    parts::LayoutOf(card)->addWidget(back, 0, Qt::AlignLeft);
    connect(back, &QPushButton::clicked, this, [this, who = child.uuid] {
      const auto taken =
          event_->Write([who](EventDesk& desk) { return desk.TakeBackCaution(who); });
      event_->Nudge();
      if (taken) {
        emit Wanted(PageId::kEventAfter);
      } else {
        Say(words::ForError(taken.error()));
      }
    });
    body()->addWidget(card);
  }
}

void EventAfterPage::MakeConflicts() {
  const EventState& state = event_->desk()->state();
  for (const ChildState& child : state.children) {
    if (!child.conflict) continue;
    QFrame* const card = parts::Card(tr("Measured twice unseen: %1").arg(words::ForChild(child)));
    parts::LayoutOf(card)->addWidget(
        parts::Text(tr("Both stay in the file. Which one counts?"), "quiet"));
    for (const Measurement& made : child.measurements) {
      if (!made.stands) continue;
      const QString value = words::ForDistance(made.what.break_mm, state.event.rule.plane);
      QPushButton* const choice = parts::Choice(
          tr("%1, %2").arg(value.isEmpty() ? tr("no value") : value, Text(made.volunteer)),
          Text(made.at));
      parts::LayoutOf(card)->addWidget(choice);
      connect(choice, &QPushButton::clicked, this, [this, who = child.uuid, keep = made.uuid] {
        const auto settled =
            event_->Write([who, keep](EventDesk& desk) { return desk.Settle(who, keep); });
        event_->Nudge();
        if (settled) {
          emit Wanted(PageId::kEventAfter);
        } else {
          Say(words::ForError(settled.error()));
        }
      });
    }
    body()->addWidget(card);
  }
}

void EventAfterPage::MakeSharedNumbers() {
  for (const ChildState& child : event_->desk()->state().children) {
    if (!child.number_shared) continue;
    QFrame* const card = parts::Card(tr("One number for two: %1").arg(words::ForChild(child)));
    parts::LayoutOf(card)->addWidget(parts::Text(
        tr("Two stations that did not know of each other gave this number. Both children are kept. "
           "Give one of them another number, and the wristband with it."),
        "quiet"));
    auto* number = new QLineEdit(card);
    number->setObjectName("new_number");
    number->setFont(look::Body());
    number->setAccessibleName(tr("Its new number"));
    number->setPlaceholderText(tr("its new number"));
    parts::LayoutOf(card)->addWidget(number);
    QPushButton* const give = SmallButton(tr("Give it this number"), "renumber");
    parts::LayoutOf(card)->addWidget(give, 0, Qt::AlignLeft);
    connect(give, &QPushButton::clicked, this, [this, number, who = child.uuid] {
      const auto given = event_->Write([who, typed = number->text().toStdString()](
                                           EventDesk& desk) { return desk.Renumber(who, typed); });
      event_->Nudge();
      if (given) {
        emit Wanted(PageId::kEventAfter);
      } else {
        Say(words::ForError(given.error()));
      }
    });
    body()->addWidget(card);
  }
}

void EventAfterPage::MakeList() {
  const EventState& state = event_->desk()->state();
  QFrame* const card = parts::Card(tr("Who needs what"));
  auto* list = new QListWidget(card);
  list->setObjectName("who");
  list->setAccessibleName(tr("Who needs what"));
  list->setFont(look::Body());
  list->setWordWrap(true);
  list->setMinimumHeight(look::Art(200));
  for (const Finding finding : {Finding::kNeedsLookingAfter, Finding::kSeeProfessional,
                                Finding::kMeasureAgain, Finding::kNotMeasured}) {
    for (const ChildState& child : state.children) {
      if (child.finding != finding || (!child.counts && !child.needs_looking_after())) continue;
      QString line = words::ForFinding(child) + " · " + words::ForChild(child);
      const QString value =
          child.counts ? words::ForDistance(child.measurements[*child.counts].what.break_mm,
                                            state.event.rule.plane)
                       : QString();
      if (!value.isEmpty()) line += " · " + value;
      list->addItem(line);
    }
  }
  if (list->count() == 0) list->addItem(tr("Nobody so far."));
  parts::LayoutOf(card)->addWidget(list);
  const QString other = words::ForOtherPlane(state.event.rule.plane);
  if (!other.isEmpty()) {
    auto* const said = parts::Text(other, "quiet");
    said->setObjectName("other_plane");
    parts::LayoutOf(card)->addWidget(said);
  }
  body()->addWidget(card);
}

void EventAfterPage::MakeFiles() {
  QFrame* const card = parts::Card(tr("Letters and files"));
  auto* row = parts::NewRow();
  QPushButton* const letters = SmallButton(tr("Letters to parents (PDF) ..."), "letters");
  QPushButton* const files = SmallButton(tr("Tables and FHIR ..."), "files");
  row->addWidget(letters);
  row->addWidget(files);
  row->addStretch(1);
  parts::LayoutOf(card)->addLayout(row);
  parts::LayoutOf(card)->addWidget(parts::Text(
      tr("These files hold names and results. Deleting the event does not delete them."), "quiet"));
  body()->addWidget(card);
  connect(letters, &QPushButton::clicked, this, [this] {
    const QString file =
        QFileDialog::getSaveFileName(this, tr("Letters to parents"), "letters.pdf", "PDF (*.pdf)");
    if (!file.isEmpty()) WriteLetters(file);
  });
  connect(files, &QPushButton::clicked, this, [this] {
    const QString folder = QFileDialog::getExistingDirectory(this, tr("Folder for the files"));
    if (!folder.isEmpty()) Export(folder);
  });
}

void EventAfterPage::WriteLetters(const QString& file) {
  const EventState& state = event_->desk()->state();
  LetterOptions options;
  if (LanguageInUse() == "de") options.language = LetterLanguage::kGerman;
  const auto children = WhoGetsALetter(state, /*only_action=*/false);
  const auto pdf = LettersPdf(children, state.event, options);
  const auto written = pdf ? WriteFileAtomically(file.toStdString(), *pdf, Readers::kOwner)
                           : Result<void>(tl::unexpected(pdf.error()));
  Say(written ? tr("%n letter(s) are in the file.", nullptr, static_cast<int>(children.size()))
              : words::ForError(written.error()));
}

void EventAfterPage::Export(const QString& folder) {
  const auto counts = ExportEvent(event_->store(), event_->desk()->state(), folder.toStdString());
  Say(counts ? tr("%n child(ren) are in the tables.", nullptr, counts->children)
             : words::ForError(counts.error()));
}

void EventAfterPage::MakeEnd() {
  const std::string name = event_->desk()->state().event.name;
  QFrame* const card = parts::Card(tr("Delete the event"));
  parts::LayoutOf(card)->addWidget(parts::Text(
      tr("From the server at once and from every station as soon as it connects; each says when it "
         "has done so. Write the letters and files first. Type the name of the event to go on: %1")
          .arg(Text(name))));
  confirm_ = new QLineEdit(card);
  confirm_->setObjectName("confirm");
  confirm_->setFont(look::Body());
  confirm_->setAccessibleName(tr("The name of the event"));
  parts::LayoutOf(card)->addWidget(confirm_);
  QPushButton* const remove = SmallButton(tr("Delete everywhere"), "delete");
  remove->setEnabled(false);
  parts::LayoutOf(card)->addWidget(remove, 0, Qt::AlignLeft);
  body()->addWidget(card);
  connect(confirm_, &QLineEdit::textChanged, this, [remove, name](const QString& typed) {
    remove->setEnabled(typed.toStdString() == name);
  });
  connect(remove, &QPushButton::clicked, this, &EventAfterPage::Delete);
}

void EventAfterPage::Delete() {
  const Uuid event = event_->desk()->state().uuid;
  const ServerAccess access = AccessOf(event_->store());
  Result<void> done;
  if (access.address.isEmpty()) {
    done = AskToDelete(event_->store(), nullptr, event, "");
  } else if (const auto server = EventDatabase::OpenServer(access); !server) {
    done = tl::unexpected(server.error());
  } else if (const auto merged = Sync(event_->store(), *server); !merged) {
    done = tl::unexpected(merged.error());
  } else {
    done = AskToDelete(event_->store(), &*server, event,
                       event_->store().Setting("name").toStdString());
    event_->Nudge();
  }
  if (!done) {
    Say(words::ForError(done.error()));
    return;
  }
  event_->Refresh();
  emit Wanted(PageId::kEvent);
}

void EventAfterPage::Say(const QString& sentence) {
  said_->setText(sentence);
  said_->show();
}

}  // namespace nearpoint
