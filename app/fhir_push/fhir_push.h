// A bundle to a FHIR R4 server. The only part of the program that opens a connection, and only to
// the server that somebody configured.
//
// The bundle is a transaction whose entries are PUTs under ids drawn from the session (fhir.h), so
// a server that got it twice, because the first answer was lost on the way, holds it once.
#pragma once

#include <QByteArray>
#include <QNetworkAccessManager>
#include <QObject>
#include <QTimer>
#include <QUrl>

#include "vision/core/result.h"

class QNetworkReply;

namespace nearpoint {

struct FhirServer {
  QUrl base;         // https://.../fhir; http only to this computer itself
  QByteArray token;  // of the Authorization header (Bearer); empty: none. Held in memory alone.
};

struct PushPatience {
  int tries = 5;
  int first_wait_ms =
      1000;                // doubled each time, at most a minute; a server's Retry-After goes first
  int timeout_ms = 30000;  // for one try
};

// kBadValue: not https, except to this computer; a token with a line break; user or password in the
// address.
[[nodiscard]] Result<void> CheckServer(const FhirServer& server);

class FhirPush : public QObject {
  Q_OBJECT

 public:
  explicit FhirPush(FhirServer server, PushPatience patience = {}, QObject* parent = nullptr);

  // transaction: the bundle as JSON (FhirOptions::transaction). Ends with exactly one of the two
  // signals. Not again before it ended.
  void Send(const QByteArray& transaction);

 signals:
  void Done(int tries);
  // One sentence. kUnavailable: the server could not be reached or was busy to the end, trying
  // again later may help; kBadValue: it refused, with its reason; kNotWritable: the token is not
  // accepted.
  void Failed(nearpoint::Error error);
  void Waiting(int ms);  // before the next try

 private:
  void Try();
  void Finish(QNetworkReply* reply);
  void Again(const QNetworkReply& reply);
  void Fail(ErrorCode code, const QString& sentence);

  FhirServer server_;
  PushPatience patience_;
  QNetworkAccessManager network_;
  QTimer wait_;
  QByteArray transaction_;
  int tried_ = 0;
};

}  // namespace nearpoint
