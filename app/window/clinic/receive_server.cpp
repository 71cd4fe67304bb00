// What homes left on the record server.
#include <QFrame>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <utility>

#include "app/review/audit_log.h"
#include "app/window/clinic/clinic_parts.h"
#include "app/window/clinic/receive_page.h"
#include "app/window/parts.h"
#include "app/window/send/token_field.h"

namespace nearpoint {
namespace {

// Where the newest that this server has shown is remembered.
QString SinceKey(const QString& server) {
  return "fhir_since:" + QString::fromStdString(HashOf(server.toStdString()));
}

}  // namespace

void ReceivePage::ShowServer() {
  const QString server = clinic()->store.Setting("fhir_server");
  if (server.isEmpty()) return;
  QFrame* const card = parts::Card(tr("Record server"));
  parts::LayoutOf(card)->addWidget(parts::Text(
      tr("%1: what homes have sealed for this clinic and left there comes as a file would.")
          .arg(server),
      "quiet"));
  token_ = new TokenField(context().keyring, server, clinic()->token);
  parts::LayoutOf(card)->addWidget(token_);
  QPushButton* const ask = clinic_parts::Button(tr("Ask the record server"), "ask");
  connect(ask, &QPushButton::clicked, this, &ReceivePage::Ask);
  parts::LayoutOf(card)->addWidget(ask, 0, Qt::AlignLeft);
  server_->addWidget(card);
}

void ReceivePage::Ask() {
  if (clinic() == nullptr || token_ == nullptr || fetch_ != nullptr || !Keys()) return;
  const QString server = clinic()->store.Setting("fhir_server");
  clinic()->token = token_->token();
  fetched_.clear();
  newest_ = clinic()->store.Setting(SinceKey(server)).toStdString();
  // Of this page: leaving it ends the asking, and the next time begins where this one began.
  fetch_ = new FhirFetch({QUrl(server), clinic()->token}, {}, this);
  ShowDone(tr("Asking ..."));
  connect(fetch_, &FhirFetch::Waiting, this, [this](int ms) {
    ShowDone(tr("The server is busy or out of reach; trying again in %1 s.")
                 .arg(QLocale().toString(ms / 1000.0, 'f', 0)));
  });
  connect(fetch_, &FhirFetch::Arrived, this, &ReceivePage::TakePage);
  connect(fetch_, &FhirFetch::Done, this, [this, server] {
    std::exchange(fetch_, nullptr)->deleteLater();
    token_->Keep();
    const auto set = clinic()->store.SetSetting(SinceKey(server), QString::fromStdString(newest_));
    if (!set) {
      ShowTrouble(set.error());
      return;
    }
    ShowDone(fetched_.isEmpty() ? tr("Nothing new lies on the server.")
                                : tr("The server has been asked."));
  });
  connect(fetch_, &FhirFetch::Failed, this, [this](const Error& error) {
    std::exchange(fetch_, nullptr)->deleteLater();
    if (error.code == ErrorCode::kNotWritable) token_->Drop();
    ShowTrouble(error);
  });
  fetch_->Start(newest_);
}

void ReceivePage::TakePage(const SealedFilesPage& page) {
  newest_ = std::max(newest_, page.newest);
  const auto keys = Keys();
  if (!keys) return;
  for (const SealedFilesPage::File& file : page.files) {
    const Taken taken = TakeBytes(*keys, file.sealed);
    // The newest of the last time comes again.
    if (!taken.was_here) fetched_ << QString::fromStdString(file.id) + ": " + taken.sentence;
  }
  for (const std::string& id : page.unreadable) {
    fetched_ << QString::fromStdString(id) + QStringLiteral(": ✗ ") +
                    tr("lies on the server without its file.");
  }
  if (!fetched_.isEmpty()) ShowOutcome(fetched_);
}

}  // namespace nearpoint
