#include "app/window/send/send_page.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QFrame>
#include <QLineEdit>
#include <QPushButton>
#include <QStyle>
#include <QVBoxLayout>

#include "app/exchange/seal.h"
#include "app/records/atomic_file.h"
#include "app/window/app_context.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/send/key_card_view.h"
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
         "like; this program has no network."));
  AddAside(tr("Back to the start"), PageId::kHome);
  if (!context().person) {
    Say(tr("Say first who you are, on the start page."), "warm");
    body()->addStretch(1);
    return;
  }
  ShowChoice();
  ShowClinics();
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
  std::vector<RowId> ids;
  for (const auto& [id, box] : sessions_) {
    if (box->isChecked()) ids.push_back(id);
  }
  return MakeHomePackage(context().store, *context().person, ids, diary_->isChecked());
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
  QVBoxLayout* const layout = parts::LayoutOf(card);
  clinic_ = parts::NewComboBox();
  clinic_->setObjectName("clinic");
  clinic_->setAccessibleName(tr("Clinic"));
  layout->addWidget(clinic_, 0, Qt::AlignLeft);
  print_ = parts::Text(QString(), "quiet");
  layout->addWidget(print_);
  connect(clinic_, &QComboBox::currentIndexChanged, this, [this] {
    const auto card_of = keys_.FindContact(clinic_->currentText().toStdString());
    print_->setText(
        card_of
            ? tr("Fingerprint of their card: %1").arg(QString::fromStdString(Fingerprint(*card_of)))
            : QString());
  });
  clinic_name_ = new QLineEdit();
  clinic_name_->setObjectName("clinic_name");
  clinic_name_->setPlaceholderText(tr("name of the clinic"));
  clinic_card_ = new QLineEdit();
  clinic_card_->setObjectName("clinic_card");
  clinic_card_->setPlaceholderText(tr("their card: a line that begins with nearpoint-card"));
  layout->addWidget(parts::Text(tr("Once: the card that your clinic gives you")));
  for (QLineEdit* line : {clinic_name_, clinic_card_}) {
    line->setFont(look::Body());
    line->setAccessibleName(line->placeholderText());
    layout->addWidget(line);
  }
  auto* add = new QPushButton(tr("Add this clinic"));
  add->setObjectName("add_clinic");
  add->setFont(look::Body());
  add->setProperty("role", "way_out");
  connect(add, &QPushButton::clicked, this, &SendPage::AddClinic);
  layout->addWidget(add, 0, Qt::AlignLeft);
  body()->addWidget(card);
  QFrame* const own = parts::Card(tr("My own card"));
  parts::LayoutOf(own)->addWidget(
      parts::Text(tr("It signs what you send. Your clinic asks you once to read its fingerprint "
                     "aloud."),
                  "quiet"));
  parts::LayoutOf(own)->addWidget(
      new KeyCardView(keys_, tr("name of this device or family"), context().person->name));
  body()->addWidget(own);
  RefreshClinics();
}

void SendPage::RefreshClinics() {
  clinic_->clear();
  const auto contacts = keys_.Contacts();
  if (contacts) {
    for (const Contact& contact : *contacts) clinic_->addItem(QString::fromStdString(contact.name));
  } else if (contacts.error().code != ErrorCode::kNotFound) {
    Say(words::ForError(contacts.error()), "stop");
  }
  clinic_->setVisible(clinic_->count() > 0);
}

void SendPage::AddClinic() {
  const auto card = ParseCard(clinic_card_->text().toStdString());
  if (!card) {
    Say(words::ForError(card.error()), "stop");
    return;
  }
  const QString name = clinic_name_->text().trimmed();
  if (name.isEmpty()) {
    Say(tr("Write the name of the clinic beside its card."), "warm");
    return;
  }
  if (const auto added = keys_.AddContact(name.toStdString(), *card); !added) {
    Say(words::ForError(added.error()), "stop");
    return;
  }
  RefreshClinics();
  clinic_->setCurrentText(name);
  clinic_name_->clear();
  clinic_card_->clear();
  Say(tr("✓ Added. Have them read out their fingerprint and compare: only then it is certain "
         "whose card it is."),
      "soft");
}

void SendPage::SealTo(const QString& file) {
  const auto chosen = Chosen();
  if (!chosen) {
    Say(chosen.error().code == ErrorCode::kInsufficient ? tr("Nothing is chosen.")
                                                        : words::ForError(chosen.error()),
        "warm");
    return;
  }
  const auto recipient = keys_.FindContact(clinic_->currentText().toStdString());
  if (!recipient) {
    Say(tr("Add the card of your clinic first."), "warm");
    return;
  }
  const auto own = keys_.Load();
  if (!own) {
    Say(own.error().code == ErrorCode::kNotFound ? tr("Make your own card first.")
                                                 : words::ForError(own.error()),
        "warm");
    return;
  }
  const auto sealed = Seal(chosen->package, own->identity, *recipient);
  if (!sealed) {
    Say(words::ForError(sealed.error()), "stop");
    return;
  }
  const auto written = WriteFileAtomically(file.toStdString(), TextOf(*sealed));
  if (!written) {
    Say(words::ForError(written.error()), "stop");
    return;
  }
  Say(tr("✓ Sealed for %1: %2").arg(clinic_->currentText(), QDir::toNativeSeparators(file)),
      "soft");
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
