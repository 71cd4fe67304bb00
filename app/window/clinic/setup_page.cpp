#include "app/window/clinic/setup_page.h"

#include <QDir>
#include <QFileDialog>
#include <QFormLayout>
#include <QFrame>
#include <QLineEdit>
#include <QPushButton>
#include <QSpinBox>
#include <QVBoxLayout>
#include <utility>

#include "app/clinic_store/person_file.h"
#include "app/clinic_store/research_export.h"
#include "app/fhir_push/fhir_push.h"
#include "app/records/atomic_file.h"
#include "app/window/clinic/clinic_parts.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/send/key_card_view.h"
#include "app/window/words.h"

namespace nearpoint {

ClinicSetupPage::ClinicSetupPage(AppContext& the_context, QWidget* parent)
    : ClinicPage(the_context, parent) {
  SetHeading(tr("Set up the clinic"));
  SetNext(tr("Done"), PageId::kClinic);
  if (clinic() != nullptr) {
    ShowWho();
    ShowKeys();
    ShowServer();
    ShowResearch();
    ShowRetention();
    ShowJournal();
  }
  body()->addStretch(1);
}

void ClinicSetupPage::Set(const QString& key, const QString& value) {
  if (const auto set = clinic()->store.SetSetting(key, value); !set) ShowTrouble(set.error());
}

void ClinicSetupPage::ShowWho() {
  QFrame* const card = parts::Card(tr("Who is at work"));
  auto* by = new QLineEdit(clinic()->store.Setting("by"));
  by->setObjectName("by");
  by->setFont(look::Body());
  by->setMaxLength(80);
  by->setAccessibleName(tr("Your name, as it is to stand in the record"));
  by->setPlaceholderText(by->accessibleName());
  connect(by, &QLineEdit::editingFinished, this, [this, by] { Set("by", by->text().trimmed()); });
  parts::LayoutOf(card)->addWidget(by);
  auto* folder = parts::Text(QString(), "quiet");
  const auto show = [this, folder] {
    const QString path = clinic()->store.Setting("watched_folder");
    folder->setText(path.isEmpty()
                        ? tr("No folder is watched; files are dropped or chosen.")
                        : tr("While \"Receive\" is open, this folder is watched: %1").arg(path));
  };
  show();
  parts::LayoutOf(card)->addWidget(folder);
  auto* choose = new QPushButton(tr("Watch a folder ..."));
  choose->setObjectName("watch");
  choose->setFont(look::Body());
  choose->setProperty("role", "way_out");
  connect(choose, &QPushButton::clicked, this, [this, show] {
    const QString path = QFileDialog::getExistingDirectory(this, tr("Folder to watch"));
    if (path.isEmpty()) return;
    Set("watched_folder", path);
    show();
  });
  parts::LayoutOf(card)->addWidget(choose, 0, Qt::AlignLeft);
  body()->addWidget(card);
}

void ClinicSetupPage::ShowKeys() {
  QFrame* const card = parts::Card(tr("The card of this clinic"));
  parts::LayoutOf(card)->addWidget(
      parts::Text(tr("Homes need it once, to seal what they send so that only you can open it. It "
                     "may be read by anybody. Read the fingerprint to them."),
                  "quiet"));
  parts::LayoutOf(card)->addWidget(new KeyCardView(clinic()->keys, tr("Name of the clinic")));
  body()->addWidget(card);
}

void ClinicSetupPage::ShowServer() {
  QFrame* const card = parts::Card(tr("Record server (FHIR R4)"));
  parts::LayoutOf(card)->addWidget(parts::Text(
      tr("Empty: this program opens no connection. With an address, a measurement goes "
         "there only when you press the button on its page, and the server is asked for "
         "what homes left there when you press the button under \"Receive\". The token "
         "is asked for then; it is kept in the keyring of the system, where there is "
         "one, and never in a file."),
      "quiet"));
  auto* server = new QLineEdit(clinic()->store.Setting("fhir_server"));
  server->setObjectName("fhir_server");
  server->setFont(look::Body());
  server->setPlaceholderText("https://");
  server->setAccessibleName(tr("Address of the record server"));
  connect(server, &QLineEdit::editingFinished, this, [this, server] {
    const QString address = server->text().trimmed();
    if (!address.isEmpty()) {
      if (const auto good = CheckServer({QUrl(address), {}}); !good) {
        ShowTrouble(good.error());
        return;
      }
    }
    Set("fhir_server", address);
  });
  parts::LayoutOf(card)->addWidget(server);
  parts::LayoutOf(card)->addWidget(parts::Text(
      tr("The system of your record numbers, as the record server names it. With it the server "
         "finds the patient, and what you send shows in the chart; without it the number alone "
         "goes along."),
      "quiet"));
  auto* system = new QLineEdit(clinic()->store.Setting("record_system"));
  system->setObjectName("record_system");
  system->setFont(look::Body());
  system->setPlaceholderText("https://... / urn:oid:...");
  system->setAccessibleName(tr("System of the record numbers"));
  connect(system, &QLineEdit::editingFinished, this,
          [this, system] { Set("record_system", system->text().trimmed()); });
  parts::LayoutOf(card)->addWidget(system);
  body()->addWidget(card);
}

void ClinicSetupPage::ShowResearch() {
  QFrame* const card = parts::Card(tr("Tables for research"));
  parts::LayoutOf(card)->addWidget(parts::Text(
      tr("All measurements as reviewed, as CSV with a data dictionary: pseudonyms in place of "
         "people, days since the first measurement in place of dates, no words. They are personal "
         "data all the same: the key to the pseudonyms stands in the file of this clinic."),
      "quiet"));
  QPushButton* const out = clinic_parts::Button(tr("Tables as CSV ..."), "research");
  connect(out, &QPushButton::clicked, this, [this] {
    const QString folder = QFileDialog::getExistingDirectory(this, tr("Folder for the tables"));
    if (!folder.isEmpty()) ExportTo(folder);
  });
  parts::LayoutOf(card)->addWidget(out, 0, Qt::AlignLeft);
  body()->addWidget(card);
}

void ClinicSetupPage::ExportTo(const QString& folder) {
  const QString by = By();
  if (by.isEmpty()) return;
  const auto tables = ExportForResearch(clinic()->store, by);
  if (!tables) {
    ShowTrouble(tables.error().code == ErrorCode::kInsufficient
                    ? tr("Nothing was measured yet that could be exported.")
                    : words::ForError(tables.error()));
    return;
  }
  const std::pair<const char*, const std::string*> files[] = {
      {"sessions.csv", &tables->sessions},
      {"trials.csv", &tables->trials},
      {"dictionary.csv", &tables->dictionary}};
  for (const auto& [name, content] : files) {
    const std::string path = QDir(folder).filePath(name).toStdString();
    if (const auto written = WriteFileAtomically(path, *content, Readers::kOwner); !written) {
      ShowTrouble(written.error());
      return;
    }
  }
  ShowDone(tr("sessions.csv, trials.csv and dictionary.csv are in %1.")
               .arg(QDir::toNativeSeparators(folder)));
}

void ClinicSetupPage::ShowRetention() {
  QFrame* const card = parts::Card(tr("How long data is kept"));
  QVBoxLayout* const layout = parts::LayoutOf(card);
  layout->addWidget(
      parts::Text(tr("Your local rules decide. Nothing is deleted by itself: who is past the time "
                     "is listed here."),
                  "quiet"));
  auto* months = new QSpinBox();
  months->setObjectName("retention");
  months->setFont(look::Body());
  months->setRange(0, 600);
  months->setSpecialValueText(tr("not said"));
  months->setSuffix(" " + tr("months"));
  months->setAccessibleName(tr("Months after the newest measurement"));
  months->setValue(clinic()->store.Setting("retention_months", "0").toInt());
  months->setMaximumWidth(look::Px(240));
  months->setMinimumHeight(look::Px(36));
  layout->addWidget(months, 0, Qt::AlignLeft);
  auto* list = parts::Text(QString());
  list->setObjectName("past_retention");
  layout->addWidget(list);
  const auto show = [this, list](int value) {
    if (value < 1) {
      list->setText(QString());
      return;
    }
    const auto past = PastRetention(clinic()->store, value);
    if (!past) {
      ShowTrouble(past.error());
      return;
    }
    QStringList names;
    for (const Patient& patient : *past) names << patient.name;
    list->setText(names.isEmpty()
                      ? tr("Nobody is past it.")
                      : tr("Past it: %1. Open each to export or delete.").arg(names.join(", ")));
  };
  connect(months, &QSpinBox::valueChanged, this, [this, show](int value) {
    Set("retention_months", QString::number(value));
    show(value);
  });
  show(months->value());
  body()->addWidget(card);
}

void ClinicSetupPage::ShowJournal() {
  QFrame* const card = parts::Card(tr("Journal"));
  const auto journal = ReadJournal(clinic()->store.database());
  parts::LayoutOf(card)->addWidget(
      journal
          ? parts::Text(QStringLiteral("✓ ") + tr("Whole: %n entries, each tied to the one before.",
                                                  nullptr, static_cast<int>(journal->size())))
          : parts::Text(words::ForError(journal.error()), "stop"));
  body()->addWidget(card);
}

}  // namespace nearpoint
