#include "app/window/pages/delete_person_page.h"

#include <QFrame>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/keyring/keyring.h"
#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/profile_defaults.h"
#include "app/window/send/server_way.h"
#include "app/window/send/token_field.h"
#include "app/window/words.h"

namespace nearpoint {

DeletePersonPage::DeletePersonPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent) {
  // What can be undone by nobody is never what Return does first.
  QPushButton* const keep = SetNext(tr("Keep everything"), PageId::kSettings);
  keep->setObjectName("keep");
  if (!context().person) {
    SetHeading(tr("Nobody is chosen"));
    return;
  }
  name_ = context().person->name;
  SetHeading(tr("Delete %1?").arg(name_));
  const auto people = context().store.People();
  const auto holdings = HoldingsOf(context().store, context().person->id);
  if (!people || !holdings) {
    Say(words::ForError(!people ? people.error() : holdings.error()), "stop");
    return;
  }
  last_ = people->size() <= 1;
  ShowHoldings(*holdings);
  delete_ = new QPushButton(tr("Delete all of this ..."));
  delete_->setObjectName("delete");
  delete_->setProperty("role", "way_out");
  delete_->setFont(look::Body());
  delete_->setAutoDefault(true);
  body()->addWidget(delete_, 0, Qt::AlignLeft);
  connect(delete_, &QPushButton::clicked, this, &DeletePersonPage::Ask);
  body()->addStretch(1);
  keep->setFocus();
}

void DeletePersonPage::ShowHoldings(const PersonHoldings& holdings) {
  QFrame* const goes = parts::Card(tr("What is removed from this computer"));
  QStringList lines{
      tr("The name, the year of birth, and the answers to the questions before measuring"),
      tr("%n measurement(s)", nullptr, holdings.measurements) + ", " +
          tr("%n trial(s) in them", nullptr, holdings.trials),
      tr("%n exercise session(s)", nullptr, holdings.exercises) + ", " +
          tr("%n plan(s)", nullptr, holdings.plans),
      tr("%n calibration(s)", nullptr, holdings.calibrations),
      tr("%n picture(s) of the eyes", nullptr, holdings.eye_pictures)};
  if (last_ && !HomeServer(context().store).isEmpty()) {
    lines << tr(
        "The address of your clinic's server, and its token in the keyring of this "
        "computer: nobody else is here who uses it");
  }
  for (const QString& line : lines) {
    parts::LayoutOf(goes)->addWidget(parts::Point(line, QStringLiteral("–")));
  }
  body()->addWidget(goes);
  QString stays =
      tr("What you saved as a file elsewhere, and what was sent to a clinic, stays "
         "where it is. The key by which this computer seals files stays too: it says "
         "nothing about anybody.");
  if (!last_ && !HomeServer(context().store).isEmpty()) {
    stays += ' ' + tr("The token of your clinic's server stays for the others at this computer.");
  }
  body()->addWidget(parts::Text(stays, "quiet"));
}

void DeletePersonPage::Say(const QString& text, const char* role) {
  body()->insertWidget(0, parts::Text(text, role));
}

void DeletePersonPage::Ask() {
  if (sure_ != nullptr) return;
  delete_->setEnabled(false);
  sure_ = parts::Card(tr("Really? Nobody can bring it back."));
  auto* yes = new QPushButton(tr("Yes, delete everything"));
  yes->setObjectName("really");
  yes->setProperty("role", "way_out");
  yes->setFont(look::Body());
  yes->setAutoDefault(true);
  parts::LayoutOf(sure_)->addWidget(yes, 0, Qt::AlignLeft);
  body()->insertWidget(body()->indexOf(delete_) + 1, sure_);
  connect(yes, &QPushButton::clicked, this, &DeletePersonPage::Delete);
  // The answer is asked for with the focus on "keep": a second Return deletes nothing.
  if (auto* keep = findChild<QPushButton*>("keep")) keep->setFocus();
}

void DeletePersonPage::Delete() {
  sure_->setEnabled(false);
  const auto deleted = DeletePerson(context().store, context().person->id);
  if (!deleted && deleted.error().code != ErrorCode::kUnavailable) {
    Say(words::ForError(deleted.error()), "stop");
    return;
  }
  // The next person may get the same number.
  context().safety_said.erase(context().person->id);
  context().safety_trouble.erase(context().person->id);
  context().person.reset();
  context().session = 0;
  context().profile = DefaultProfile();
  context().calibrated = false;
  SetHeading(tr("%1 is deleted").arg(name_));
  if (!deleted) {
    Say(words::ForError(deleted.error()), "warm");
  } else {
    Say(tr("✓ Nothing about %1 is left in the file of this computer.").arg(name_), "soft");
  }
  if (last_) ForgetToken();
  QPushButton* const on = SetNext(tr("Continue"));
  disconnect(on, nullptr, this, nullptr);
  connect(on, &QPushButton::clicked, this,
          [this] { emit Wanted(Begin(context(), context().practice)); });
  on->setFocus();
}

void DeletePersonPage::ForgetToken() {
  const QString server = HomeServer(context().store);
  if (server.isEmpty()) return;
  if (const auto forgot = ForgetServer(context().store); !forgot) {
    Say(words::ForError(forgot.error()), "warm");
  }
  if (context().keyring == nullptr) return;
  context().keyring->Remove(TokenName(server), this, [this](const Result<void>& done) {
    Say(done ? tr("✓ The token of the server is gone from the keyring.")
             : tr("The keyring of this computer cannot be reached: the token of the server may "
                  "still be in it."),
        done ? "soft" : "warm");
  });
}

}  // namespace nearpoint
