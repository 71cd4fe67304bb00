// What leaves the page of a measurement: the report, the bundle, and the bundle to a server.
#include <QComboBox>
#include <QFileDialog>
#include <QFrame>
#include <QPushButton>
#include <QVBoxLayout>
#include <nlohmann/json.hpp>
#include <utility>

#include "app/exchange/fhir.h"
#include "app/fhir_push/fhir_push.h"
#include "app/records/atomic_file.h"
#include "app/report/session_page.h"
#include "app/window/clinic/clinic_parts.h"
#include "app/window/clinic/session_page.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/send/token_field.h"

namespace nearpoint {

using clinic_parts::Button;

void ClinicSessionPage::ShowOutput() {
  QFrame* const card = parts::Card(tr("Report and record"));
  auto* row = parts::NewRow();
  auto* reader = parts::NewComboBox();
  reader->setObjectName("reader");
  reader->setAccessibleName(tr("Whom the report is for"));
  reader->addItem(tr("for the record"), static_cast<int>(Reader::kRecord));
  reader->addItem(tr("for a parent"), static_cast<int>(Reader::kParent));
  reader->addItem(tr("for a school"), static_cast<int>(Reader::kSchool));
  QPushButton* const pdf = Button(tr("Report as PDF ..."), "report");
  connect(pdf, &QPushButton::clicked, this, [this, reader] {
    if (!MayGoTo(static_cast<Reader>(reader->currentData().toInt()))) return;
    const QString file = QFileDialog::getSaveFileName(this, tr("Report as PDF"), "report.pdf",
                                                      tr("PDF files (*.pdf)"));
    if (!file.isEmpty()) SaveReport(file, static_cast<Reader>(reader->currentData().toInt()));
  });
  QPushButton* const fhir = Button(tr("FHIR bundle ..."), "fhir");
  connect(fhir, &QPushButton::clicked, this, [this] {
    const QString file = QFileDialog::getSaveFileName(this, tr("FHIR bundle"), "near-point.json",
                                                      tr("JSON files (*.json)"));
    if (!file.isEmpty()) SaveFhir(file);
  });
  row->addWidget(reader);
  row->addWidget(pdf);
  row->addWidget(fhir);
  row->addStretch(1);
  parts::LayoutOf(card)->addLayout(row);
  ShowServer(parts::LayoutOf(card));
  body()->addWidget(card);
}

// What a school learns of a child is not the clinic's to decide: asked once for each measurement.
bool ClinicSessionPage::MayGoTo(Reader reader) {
  if (reader != Reader::kSchool || school_asked_) return true;
  school_asked_ = true;
  ShowTrouble(
      tr("A school gets this only if the person, or the parents of a child, have agreed to it. Do "
         "you have their consent? Then press once more."));
  return false;
}

void ClinicSessionPage::SaveReport(const QString& file, Reader reader) {
  SessionPageOptions options;
  options.reader = reader;
  const auto patient = clinic()->store.FindPatient(file_->measurement.patient);
  if (patient) options.person = patient->name.toStdString();
  options.printed = context().store.Now().toLocalTime().date().toString(Qt::ISODate).toStdString();
  const auto pdf = SessionPagePdf(as_reviewed_, options);
  if (!pdf) {
    ShowTrouble(pdf.error());
    return;
  }
  if (const auto written = WriteFileAtomically(file.toStdString(), *pdf, Readers::kOwner);
      !written) {
    ShowTrouble(written.error());
    return;
  }
  ShowDone(tr("The report is in %1.").arg(file));
}

std::optional<std::string> ClinicSessionPage::Bundle(bool transaction) {
  const auto patient = clinic()->store.FindPatient(file_->measurement.patient);
  FhirOptions options;
  if (patient) options.subject = patient->number.toStdString();
  if (options.subject.empty()) {
    ShowTrouble(
        tr("A FHIR bundle names the person by the number of your records, never by name; "
           "this person has none yet."));
    return std::nullopt;
  }
  const QString system = clinic()->store.Setting("record_system");
  if (!system.isEmpty()) options.subject_system = system.toStdString();
  const auto installation = clinic()->store.InstallationOf(file_->measurement.id);
  if (!installation) {
    ShowTrouble(installation.error());
    return std::nullopt;
  }
  options.installation = installation->toStdString();
  options.recorded = context().store.Now().toUTC().toString(Qt::ISODate).toStdString();
  options.reviewed = file_->measurement.digest.accepted;
  options.transaction = transaction;
  const auto bundle = SessionToFhir(as_reviewed_, file_->text, options);
  if (!bundle) {
    ShowTrouble(bundle.error());
    return std::nullopt;
  }
  return bundle->dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

void ClinicSessionPage::SaveFhir(const QString& file) {
  const auto text = Bundle(/*transaction=*/false);
  if (!text) return;
  if (const auto written = WriteFileAtomically(file.toStdString(), *text, Readers::kOwner);
      !written) {
    ShowTrouble(written.error());
    return;
  }
  ShowDone(tr("The bundle is in %1.").arg(file));
}

void ClinicSessionPage::ShowServer(QVBoxLayout* layout) {
  const QString server = clinic()->store.Setting("fhir_server");
  if (server.isEmpty()) return;
  layout->addWidget(parts::Text(tr("Record server: %1").arg(server), "quiet"));
  token_ = new TokenField(context().keyring, server, clinic()->token);
  layout->addWidget(token_);
  QPushButton* const push = Button(tr("Send to the record server"), "push");
  connect(push, &QPushButton::clicked, this, &ClinicSessionPage::PushFhir);
  layout->addWidget(push, 0, Qt::AlignLeft);
}

void ClinicSessionPage::PushFhir() {
  const QString by = By();
  if (by.isEmpty() || push_ != nullptr) return;
  const QString address = clinic()->store.Setting("fhir_server");
  const auto before = clinic()->store.WasPushed(*file_, address);
  if (!before) {
    ShowTrouble(before.error());
    return;
  }
  if (*before) {
    ShowDone(tr("The server has it already, in this state of the review; nothing was sent."));
    return;
  }
  const auto bundle = Bundle(/*transaction=*/true);
  if (!bundle) return;
  clinic()->token = token_->token();
  // Of this page: leaving it ends the sending, and the next try finds what arrived.
  push_ = new FhirPush({QUrl(address), clinic()->token}, {}, this);
  ShowDone(tr("Sending ..."));
  connect(push_, &FhirPush::Waiting, this, [this](int ms) {
    ShowDone(tr("The server is busy or out of reach; trying again in %1 s.")
                 .arg(QLocale().toString(ms / 1000.0, 'f', 0)));
  });
  connect(push_, &FhirPush::Done, this, [this, address, by] {
    std::exchange(push_, nullptr)->deleteLater();
    token_->Keep();
    const auto marked = clinic()->store.MarkPushed(*file_, address, by);
    if (!marked) {
      ShowTrouble(marked.error());
      return;
    }
    ShowDone(tr("The server has taken it."));
  });
  connect(push_, &FhirPush::Failed, this, [this](const Error& error) {
    std::exchange(push_, nullptr)->deleteLater();
    if (error.code == ErrorCode::kNotWritable) token_->Drop();
    ShowTrouble(error);
  });
  push_->Send(QByteArray::fromStdString(*bundle));
}

}  // namespace nearpoint
