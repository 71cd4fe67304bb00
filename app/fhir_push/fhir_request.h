// One request to a FHIR server, repeated with growing waits while the server is busy or out of
// reach. What is sent must be such that twice is the same as once.
#pragma once

#include <QNetworkAccessManager>
#include <QObject>
#include <QTimer>

#include "app/fhir_push/fhir_server.h"

class QNetworkReply;

namespace nearpoint {

class FhirRequest : public QObject {
  Q_OBJECT

 public:
  // most_reply: a longer answer is broken off and refused.
  FhirRequest(FhirServer server, PushPatience patience, qint64 most_reply,
              QObject* parent = nullptr);

  // Each ends with exactly one of the two signals. Not again before it ended.
  void Post(const QByteArray& body);  // to the base
  // kBadValue at once for an address outside of the server: its token must not follow there.
  void Get(const QUrl& url);

  // HTTP status of the answer that ended it; 0 where none came.
  [[nodiscard]] int status() const { return status_; }

 signals:
  void Answered(const QByteArray& body, int tries);
  // One sentence. kUnavailable: the server could not be reached or was busy to the end, trying
  // again later may help; kBadValue: it refused, with its reason, or its certificate is not
  // accepted; kNotWritable: the token is not accepted.
  void Failed(const nearpoint::Error& error);
  void Waiting(int ms);  // before the next try

 private:
  void Begin();
  void Try();
  void Finish(QNetworkReply* reply);
  void Again(const QNetworkReply& reply);
  void Fail(ErrorCode code, const QString& sentence);

  FhirServer server_;
  PushPatience patience_;
  qint64 most_reply_;
  QNetworkAccessManager network_;
  QTimer wait_;
  QUrl url_;
  QByteArray body_;
  bool post_ = false;
  int tried_ = 0;
  int status_ = 0;
};

}  // namespace nearpoint
