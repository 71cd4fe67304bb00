#include "app/fhir_push/fhir_request.h"

#include <QNetworkReply>
#include <QNetworkRequest>
#include <algorithm>
#include <utility>

#include "app/exchange/fhir_reply.h"

namespace nearpoint {
namespace {

constexpr int kLongestWaitMs = 60000;
constexpr int kTooMany = 429;

std::string_view View(const QByteArray& bytes) {
  return {bytes.constData(), static_cast<std::size_t>(bytes.size())};
}

}  // namespace

FhirRequest::FhirRequest(FhirServer server, PushPatience patience, qint64 most_reply,
                         QObject* parent)
    : QObject(parent), server_(std::move(server)), patience_(patience), most_reply_(most_reply) {
  wait_.setSingleShot(true);
  connect(&wait_, &QTimer::timeout, this, &FhirRequest::Try);
}

void FhirRequest::Post(const QByteArray& body) {
  post_ = true;
  url_ = server_.base;
  body_ = body;
  Begin();
}

void FhirRequest::Get(const QUrl& url) {
  post_ = false;
  url_ = url;
  body_.clear();
  Begin();
}

void FhirRequest::Begin() {
  tried_ = 0;
  status_ = 0;
  if (const auto good = CheckServer(server_); !good) {
    emit Failed(good.error());
    return;
  }
  const bool same = url_.scheme() == server_.base.scheme() && url_.host() == server_.base.host() &&
                    url_.port() == server_.base.port() && url_.userInfo().isEmpty();
  if (!same) {
    Fail(ErrorCode::kBadValue, server_.base.host() + ": points to another server");
    return;
  }
  Try();
}

void FhirRequest::Try() {
  ++tried_;
  QNetworkRequest request(url_);
  request.setRawHeader("Accept", "application/fhir+json");
  if (!server_.token.isEmpty()) request.setRawHeader("Authorization", "Bearer " + server_.token);
  // A token must not follow to wherever a server points.
  request.setAttribute(QNetworkRequest::RedirectPolicyAttribute,
                       QNetworkRequest::ManualRedirectPolicy);
  request.setTransferTimeout(patience_.timeout_ms);
  QNetworkReply* reply = nullptr;
  if (post_) {
    request.setHeader(QNetworkRequest::ContentTypeHeader, "application/fhir+json; charset=utf-8");
    reply = network_.post(request, body_);
  } else {
    // What is asked again must not come from a cache of the way.
    request.setAttribute(QNetworkRequest::CacheLoadControlAttribute,
                         QNetworkRequest::AlwaysNetwork);
    reply = network_.get(request);
  }
  connect(reply, &QNetworkReply::downloadProgress, this, [this, reply](qint64 received, qint64) {
    if (received <= most_reply_) return;
    reply->setProperty("too_long", true);
    reply->abort();
  });
  connect(reply, &QNetworkReply::finished, this, [this, reply] { Finish(reply); });
}

void FhirRequest::Finish(QNetworkReply* reply) {
  reply->deleteLater();
  const int status = reply->attribute(QNetworkRequest::HttpStatusCodeAttribute).toInt();
  status_ = status;
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
  if (reply->property("too_long").toBool()) {
    Fail(ErrorCode::kBadValue, host + ": its answer is longer than any that is expected");
    return;
  }
  if (status == 0 || status == kTooMany || status >= kServer) {
    Again(*reply);
    return;
  }
  if (status == kOk && reply->error() != QNetworkReply::NoError) {  // broken off within the answer
    Again(*reply);
    return;
  }
  const QByteArray body = reply->read(most_reply_);
  const std::string reason = ReasonOf(View(body));
  const QString because = reason.empty() ? QString() : ": " + QString::fromStdString(reason);
  if (status == kNoToken || status == kForbidden) {
    Fail(ErrorCode::kNotWritable, host + ": the token is not accepted" + because);
  } else if (status >= kRefused) {
    Fail(ErrorCode::kBadValue,
         host + ": refused the request (" + QString::number(status) + ")" + because);
  } else if (status >= kRedirect) {
    Fail(ErrorCode::kBadValue, host + ": points to another address; enter that one instead");
  } else if (status != kOk) {
    Fail(ErrorCode::kBadValue, host + ": answered " + QString::number(status) + " instead of 200");
  } else {
    emit Answered(body, tried_);
  }
}

void FhirRequest::Again(const QNetworkReply& reply) {
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
  if (seconds && asked >= 0) ms = std::min(asked, kLongestWaitMs / 1000) * 1000;
  emit Waiting(ms);
  wait_.start(ms);
}

void FhirRequest::Fail(ErrorCode code, const QString& sentence) {
  QString text = sentence.simplified();
  if (!text.endsWith('.')) text += '.';
  emit Failed({code, text.toStdString()});
}

}  // namespace nearpoint
