#include "app/window/send/send_page.h"

#include <QCheckBox>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QFrame>
#include <QPushButton>
#include <QStyle>
#include <QVBoxLayout>

#include "app/exchange/seal.h"
#include "app/records/atomic_file.h"
#include "app/review/audit_log.h"
#include "app/window/app_context.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/send/clinic_chooser.h"
#include "app/window/send/eye_picture_choice.h"
#include "app/window/send/key_card_view.h"
#include "app/window/send/server_way.h"
#include "app/window/words.h"

namespace nearpoint {

KeyStore HomeKeys(const Store& store) {
  const QDir folder = QFileInfo(store.database().file()).absoluteDir();
  return KeyStore(folder.filePath("keys").toStdString());
}

SendPage::SendPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent), keys_(HomeKeys(the_context.store)) {
  SetHeading(tr("Send to my clinic"));
  SetLead(
      tr("A file is made that only your clinic can open. You take it there or send it as you "
         "like."));
  AddAside(tr("Back to the start"), PageId::kHome);
  if (!context().person) {
    Say(tr("Say first who you are, on the start page."), "warm");
    body()->addStretch(1);
    return;
  }
  ShowChoice();
  ShowClinics();
  ShowPictures();
  ShowServer();
  body()->addStretch(1);
  QPushButton* const seal = SetNext(tr("Seal and save ..."));
  seal->setObjectName("seal");
  connect(seal, &QPushButton::clicked, this, [this] {
    const QString name = "near-point-" +
                         context().store.Now().toLocalTime().date().toString(Qt::ISODate) +
                         ".nearpoint";
    const QString file = QFileDialog::getSaveFileName(this, tr("Sealed file"), name,
                                                      tr("Sealed files (*.nearpoint)"));
    if (!file.isEmpty()) SealTo(file);
  });
}

void SendPage::ShowChoice() {
  QFrame* const card = parts::Card(tr("What to send"));
  QVBoxLayout* const layout = parts::LayoutOf(card);
  const auto sessions = SendableSessions(context().store, context().person->id);
  if (!sessions) {
    layout->addWidget(parts::Text(words::ForError(sessions.error()), "stop"));
  } else if (sessions->empty()) {
    layout->addWidget(parts::Text(tr("Nothing has been measured yet."), "quiet"));
  } else {
    // The newest is what is usually wanted; older ones the clinic mostly has.
    for (const HomeSession& session : *sessions) {
      auto* box = new QCheckBox(MomentText(session.started_at));
      box->setFont(look::Body());
      box->setObjectName(QString("session%1").arg(session.id));
      box->setChecked(sessions_.empty());
      connect(box, &QCheckBox::toggled, this, &SendPage::RefreshInside);
      layout->addWidget(box);
      sessions_.emplace_back(session.id, box);
    }
  }
  diary_ = new QCheckBox(tr("The exercise diary"));
  diary_->setObjectName("diary");
  diary_->setFont(look::Body());
  diary_->setChecked(true);
  connect(diary_, &QCheckBox::toggled, this, &SendPage::RefreshInside);
  layout->addWidget(diary_);
  // Never ticked by itself.
  pictures_ = new QCheckBox(tr("Pictures of my eyes"));
  pictures_->setObjectName("pictures");
  pictures_->setFont(look::Body());
  pictures_->setVisible(EyePictureStore(context().store).CountOf(context().person->id).value_or(0) >
                        0);
  connect(pictures_, &QCheckBox::toggled, this, &SendPage::RefreshInside);
  layout->addWidget(pictures_);
  body()->addWidget(card);
  QFrame* const list = parts::Card(tr("What is inside then"));
  auto* box = new QWidget();
  inside_ = new QVBoxLayout(box);
  inside_->setContentsMargins(0, 0, 0, 0);
  parts::LayoutOf(list)->addWidget(box);
  body()->addWidget(list);
  RefreshInside();
}

Result<HomePackage> SendPage::Chosen() {
  HomeChoice choice;
  for (const auto& [id, box] : sessions_) {
    if (box->isChecked()) choice.sessions.push_back(id);
  }
  choice.diary = diary_->isChecked();
  choice.pictures = pictures_->isChecked();
  return MakeHomePackage(context().store, *context().person, choice);
}

void SendPage::RefreshInside() {
  while (QLayoutItem* item = inside_->takeAt(0)) {
    if (QWidget* const gone = item->widget()) {
      gone->hide();  // at once: it goes when the events do
      gone->deleteLater();
    }
    delete item;
  }
  const auto chosen = Chosen();
  if (!chosen) {
    inside_->addWidget(parts::Text(chosen.error().code == ErrorCode::kInsufficient
                                       ? tr("Nothing is chosen.")
                                       : words::ForError(chosen.error()),
                                   "warm"));
    return;
  }
  for (const QString& line : chosen->inside) inside_->addWidget(parts::Point(line, "•"));
}

void SendPage::ShowClinics() {
  QFrame* const card = parts::Card(tr("To whom"));
  clinic_ = new ClinicChooser(context(), keys_);
  connect(clinic_, &ClinicChooser::Said, this, &SendPage::Say);
  parts::LayoutOf(card)->addWidget(clinic_);
  body()->addWidget(card);
  QFrame* const own = parts::Card(tr("My own card"));
  parts::LayoutOf(own)->addWidget(
      parts::Text(tr("It signs what you send. Your clinic asks you once to read its fingerprint "
                     "aloud."),
                  "quiet"));
  parts::LayoutOf(own)->addWidget(
      new KeyCardView(keys_, tr("name of this device or family"), context().person->name));
  body()->addWidget(own);
}

void SendPage::ShowPictures() {
  QFrame* const card = parts::Card(tr("Pictures of the eyes"));
  auto* choice = new EyePictureChoice(context().store, *context().person);
  connect(choice, &EyePictureChoice::Said, this, &SendPage::Say);
  connect(choice, &EyePictureChoice::Changed, this, [this] {
    pictures_->setChecked(false);
    pictures_->hide();
    RefreshInside();
  });
  parts::LayoutOf(card)->addWidget(choice);
  body()->addWidget(card);
}

void SendPage::ShowServer() {
  QFrame* const card = parts::Card(tr("Over the clinic's server"));
  server_ = new ServerWay(context());
  connect(server_, &ServerWay::Said, this, &SendPage::Say);
  connect(server_, &ServerWay::Wanted, this, &SendPage::LeaveOnServer);
  parts::LayoutOf(card)->addWidget(server_);
  body()->addWidget(card);
}

std::optional<SendPage::Sealed> SendPage::SealChosen() {
  const auto chosen = Chosen();
  if (!chosen) {
    Say(chosen.error().code == ErrorCode::kInsufficient ? tr("Nothing is chosen.")
                                                        : words::ForError(chosen.error()),
        "warm");
    return std::nullopt;
  }
  const auto recipient = clinic_->card();
  if (!recipient) {
    Say(tr("Add the card of your clinic first."), "warm");
    return std::nullopt;
  }
  const auto own = keys_.Load();
  if (!own) {
    Say(own.error().code == ErrorCode::kNotFound ? tr("Make your own card first.")
                                                 : words::ForError(own.error()),
        "warm");
    return std::nullopt;
  }
  auto sealed = Seal(chosen->package, own->identity, *recipient);
  if (!sealed) {
    Say(words::ForError(sealed.error()), "stop");
    return std::nullopt;
  }
  std::string content = ToText(*recipient);
  for (const PackageItem& item : chosen->package.items) {
    content += '\n' + item.name + '\n' + HashOf(item.content);
  }
  return Sealed{*std::move(sealed), QString::fromStdString(HashOf(content))};
}

void SendPage::LeaveOnServer() {
  if (const auto sealed = SealChosen()) server_->Leave(sealed->file, sealed->content);
}

void SendPage::SealTo(const QString& file) {
  const auto sealed = SealChosen();
  if (!sealed) return;
  const auto written = WriteFileAtomically(file.toStdString(), TextOf(sealed->file));
  if (!written) {
    Say(words::ForError(written.error()), "stop");
    return;
  }
  Say(tr("✓ Sealed for %1: %2").arg(clinic_->name(), QDir::toNativeSeparators(file)), "soft");
}

void SendPage::Say(const QString& sentence, const char* role) {
  auto* said = findChild<QLabel*>("said");
  if (said == nullptr) {
    said = parts::Text(QString());
    said->setObjectName("said");
    constexpr int kBelowLead = 3;
    body()->insertWidget(kBelowLead, said);
  }
  said->setProperty("role", role);
  said->style()->unpolish(said);
  said->style()->polish(said);
  said->setText(sentence);
}

}  // namespace nearpoint
