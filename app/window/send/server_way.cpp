#include "app/window/send/server_way.h"

#include <QLineEdit>
#include <QLocale>
#include <QPushButton>
#include <QVBoxLayout>
#include <utility>

#include "app/exchange/fhir_mailbox.h"
#include "app/review/audit_log.h"
#include "app/window/app_context.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {

constexpr const char* kServer = "fhir_server";

QString LeftKey(const QString& server, const QString& content) {
  return "left:" + QString::fromStdString(HashOf((server + " " + content).toStdString()));
}

}  // namespace

QString HomeServer(const Store& store) { return store.Setting(kServer); }

ServerWay::ServerWay(AppContext& context, PushPatience patience, QWidget* parent)
    : QWidget(parent), context_(context), patience_(patience) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(look::Px(8));
  column->addWidget(parts::Text(
      tr("While this is empty, nothing leaves this computer by itself. With the address that your "
         "clinic gave you, the sealed file can be left on its server; the server cannot open it."),
      "quiet"));
  address_ = new QLineEdit(context_.store.Setting(kServer));
  address_->setObjectName("server");
  address_->setFont(look::Body());
  address_->setPlaceholderText("https://");
  address_->setAccessibleName(tr("Address of the clinic's server"));
  connect(address_, &QLineEdit::editingFinished, this, &ServerWay::SetAddress);
  column->addWidget(address_);
  place_ = new QVBoxLayout();
  column->addLayout(place_);
  leave_ = new QPushButton(tr("Leave on the server"));
  leave_->setObjectName("leave");
  leave_->setFont(look::Body());
  leave_->setProperty("role", "way_out");
  connect(leave_, &QPushButton::clicked, this, [this] {
    if (push_ == nullptr) emit Wanted();
  });
  column->addWidget(leave_, 0, Qt::AlignLeft);
  ShowToken();
}

void ServerWay::SetAddress() {
  const QString address = address_->text().trimmed();
  if (address == context_.store.Setting(kServer)) return;
  if (!address.isEmpty()) {
    if (const auto good = CheckServer({QUrl(address), {}}); !good) {
      emit Said(words::ForError(good.error()), "stop");
      return;
    }
  }
  if (const auto set = context_.store.SetSetting(kServer, address); !set) {
    emit Said(words::ForError(set.error()), "stop");
  }
  ShowToken();
}

void ServerWay::ShowToken() {
  if (token_ != nullptr) {
    token_->hide();
    std::exchange(token_, nullptr)->deleteLater();
  }
  const QString server = context_.store.Setting(kServer);
  leave_->setVisible(!server.isEmpty());
  if (server.isEmpty()) return;
  token_ = new TokenField(context_.keyring, server, {});
  place_->addWidget(token_);
}

void ServerWay::End() {
  std::exchange(push_, nullptr)->deleteLater();
  address_->setEnabled(true);
}

void ServerWay::Leave(const Bytes& sealed, const QString& content) {
  const QString server = context_.store.Setting(kServer);
  if (server.isEmpty() || push_ != nullptr) return;
  if (!context_.store.Setting(LeftKey(server, content)).isEmpty()) {
    emit Said(tr("✓ The server has just this already; nothing was sent."), "soft");
    return;
  }
  if (tried_content_ != content) {
    tried_content_ = content;
    tried_ = sealed;
  }
  const std::string now = context_.store.Now().toUTC().toString(Qt::ISODate).toStdString();
  // Of this page: leaving it ends the sending.
  push_ = new FhirPush({QUrl(server), token_->token()}, patience_, this);
  address_->setEnabled(false);  // until it is known what became of it
  emit Said(tr("Sending ..."), "quiet");
  connect(push_, &FhirPush::Waiting, this, [this](int ms) {
    emit Said(tr("The server is busy or out of reach; trying again in %1 s.")
                  .arg(QLocale().toString(ms / 1000.0, 'f', 0)),
              "quiet");
  });
  connect(push_, &FhirPush::Done, this, [this, server, content, now] {
    End();
    token_->Keep();
    const auto kept =
        context_.store.SetSetting(LeftKey(server, content), QString::fromStdString(now));
    if (!kept) {
      emit Said(words::ForError(kept.error()), "stop");
      return;
    }
    emit Said(tr("✓ Sealed and left on the server of your clinic."), "soft");
  });
  connect(push_, &FhirPush::Failed, this, [this](const Error& error) {
    End();
    if (error.code == ErrorCode::kNotWritable) token_->Drop();
    emit Said(words::ForError(error), "stop");
  });
  push_->Send(QByteArray::fromStdString(SealedToFhir(tried_, now).dump()));
}

}  // namespace nearpoint
