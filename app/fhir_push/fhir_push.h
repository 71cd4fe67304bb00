// A bundle to a FHIR R4 server. This folder is the only part of the program that opens a
// connection, and only to the server that somebody configured.
//
// The bundle is a transaction whose entries are PUTs under ids drawn from what they carry (fhir.h,
// fhir_mailbox.h), so a server that got it twice, because the first answer was lost on the way,
// holds it once. One that takes no ids but its own gets it as conditional updates
// (fhir_conditional.h). Where the record numbers have a system that the server may know, it is
// asked for the patient first, so that a chart shows what was sent.
#pragma once

#include <QObject>

#include "app/fhir_push/fhir_request.h"

namespace nearpoint {

class FhirPush : public QObject {
  Q_OBJECT

 public:
  explicit FhirPush(FhirServer server, PushPatience patience = {}, QObject* parent = nullptr);

  // transaction: the bundle as JSON (FhirOptions::transaction). Ends with exactly one of the two
  // signals. Not again before it ended.
  void Send(const QByteArray& transaction);

 signals:
  void Done(int tries);
  void Failed(const nearpoint::Error& error);  // as FhirRequest's
  void Waiting(int ms);                        // before the next try

 private:
  void Post();
  void Judge(const QByteArray& reply, int tries);
  void Refused(const Error& error);
  bool SendWithoutIds();

  enum class Step { kPatient, kChosenIds, kOwnIds };
  FhirServer server_;
  FhirRequest request_;
  QByteArray transaction_;
  Step step_ = Step::kChosenIds;
  std::size_t entries_ = 0;
};

}  // namespace nearpoint
