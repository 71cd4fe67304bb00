#include "app/fhir_push/fhir_push.h"

#include <QHostAddress>
#include <QNetworkReply>
#include <QNetworkRequest>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "app/exchange/fhir_reply.h"

namespace nearpoint {
namespace {

using Json = nlohmann::json;

constexpr int kLongestWaitMs = 60000;
constexpr int kTooMany = 429;
constexpr qint64 kMostReply = 8LL << 20;

bool IsThisComputer(const QString& host) {
  return host == "localhost" || QHostAddress(host).isLoopback();
}

std::string_view View(const QByteArray& bytes) {
  return {bytes.constData(), static_cast<std::size_t>(bytes.size())};
}

std::size_t EntriesOf(const QByteArray& transaction) {
  const Json json = Json::parse(View(transaction), nullptr, /*allow_exceptions=*/false);
  const auto entries = json.is_object() ? json.find("entry") : json.end();
  return json.is_object() && entries != json.end() ? entries->size() : 0;
}

}  // namespace

Result<void> CheckServer(const FhirServer& server) {
  const QUrl& base = server.base;
  const std::string text = base.toString(QUrl::RemoveUserInfo).toStdString();
  if (!base.isValid() || base.host().isEmpty()) {
    return tl::unexpected(
        Error{ErrorCode::kBadValue, "\"" + text + "\" is no address of a server."});
  }
  if (base.scheme() != "https" && !(base.scheme() == "http" && IsThisComputer(base.host()))) {
    return tl::unexpected(Error{
        ErrorCode::kBadValue,
        text + ": expected an address that begins with https, since it carries health data."});
  }
  if (!base.userInfo().isEmpty()) {
    return tl::unexpected(Error{ErrorCode::kBadValue,
                                text + ": a name or password does not belong into an address."});
  }
  if (server.token.contains('\n') || server.token.contains('\r')) {
    return tl::unexpected(Error{ErrorCode::kBadValue, "The token holds a line break."});
  }
  return {};
}

FhirPush::FhirPush(FhirServer server, PushPatience patience, QObject* parent)
    : QObject(parent), server_(std::move(server)), patience_(patience) {
  wait_.setSingleShot(true);
  connect(&wait_, &QTimer::timeout, this, &FhirPush::Try);
}

void FhirPush::Send(const QByteArray& transaction) {
  tried_ = 0;
  transaction_ = transaction;
  if (const auto good = CheckServer(server_); !good) {
    emit Failed(good.error());
    return;
  }
  Try();
}

void FhirPush::Try() {
  ++tried_;
  QNetworkRequest request(server_.base);
  request.setHeader(QNetworkRequest::ContentTypeHeader, "application/fhir+json; charset=utf-8");
  request.setRawHeader("Accept", "application/fhir+json");
  if (!server_.token.isEmpty()) request.setRawHeader("Authorization", "Bearer " + server_.token);
  // A token must not follow to wherever a server points.
  request.setAttribute(QNetworkRequest::RedirectPolicyAttribute,
                       QNetworkRequest::ManualRedirectPolicy);
  request.setTransferTimeout(patience_.timeout_ms);
  QNetworkReply* const reply = network_.post(request, transaction_);
  connect(reply, &QNetworkReply::finished, this, [this, reply] { Finish(reply); });
}

void FhirPush::Finish(QNetworkReply* reply) {
  reply->deleteLater();
  const int status = reply->attribute(QNetworkRequest::HttpStatusCodeAttribute).toInt();
  constexpr int kOk = 200;
  constexpr int kRedirect = 300;
  constexpr int kRefused = 400;
  constexpr int kNoToken = 401;
  constexpr int kForbidden = 403;
  constexpr int kServer = 500;
  const QString host = server_.base.host();
  if (reply->error() == QNetworkReply::SslHandshakeFailedError) {
    Fail(ErrorCode::kBadValue, host + ": its certificate is not accepted: " + reply->errorString());
    return;
  }
  if (status == 0 || status == kTooMany || status >= kServer) {
    Again(*reply);
    return;
  }
  const QByteArray body = reply->read(kMostReply);
  const std::string reason = ReasonOf(View(body));
  const QString because = reason.empty() ? QString() : ": " + QString::fromStdString(reason);
  if (status == kNoToken || status == kForbidden) {
    Fail(ErrorCode::kNotWritable, host + ": the token is not accepted" + because);
  } else if (status >= kRefused) {
    Fail(ErrorCode::kBadValue,
         host + ": refused the bundle (" + QString::number(status) + ")" + because);
  } else if (status >= kRedirect) {
    Fail(ErrorCode::kBadValue, host + ": points to another address; enter that one instead");
  } else if (status != kOk || !IsCarriedOut(View(body), EntriesOf(transaction_))) {
    Fail(ErrorCode::kBadValue, host + ": did not say that every entry was carried out");
  } else {
    emit Done(tried_);
  }
}

void FhirPush::Again(const QNetworkReply& reply) {
  if (tried_ >= patience_.tries) {
    Fail(ErrorCode::kUnavailable, server_.base.host() + ": could not be reached or was busy " +
                                      QString::number(tried_) + " times (" + reply.errorString() +
                                      "); try again later");
    return;
  }
  int ms = patience_.first_wait_ms;
  for (int i = 1; i < tried_; ++i) ms = std::min(ms * 2, kLongestWaitMs);
  bool seconds = false;
  const int asked = reply.rawHeader("Retry-After").toInt(&seconds);
  if (seconds && asked >= 0) ms = std::min(asked * 1000, kLongestWaitMs);
  emit Waiting(ms);
  wait_.start(ms);
}

void FhirPush::Fail(ErrorCode code, const QString& sentence) {
  QString text = sentence.simplified();
  if (!text.endsWith('.')) text += '.';
  emit Failed({code, text.toStdString()});
}

}  // namespace nearpoint
