// The sealed files that lie on a FHIR R4 server, page by page.
#pragma once

#include <QObject>

#include "app/exchange/fhir_mailbox.h"
#include "app/fhir_push/fhir_request.h"

namespace nearpoint {

class FhirFetch : public QObject {
  Q_OBJECT

 public:
  explicit FhirFetch(FhirServer server, PushPatience patience = {}, QObject* parent = nullptr);

  // since: as SealedFilesQuery takes it. Arrived() for each page, then exactly one of Done() and
  // Failed(). Not again before it ended.
  void Start(const std::string& since);

 signals:
  void Arrived(const nearpoint::SealedFilesPage& page);
  void Done();
  // As FhirRequest's; besides kBadValue: an answer that is no list, or one without an end.
  void Failed(const nearpoint::Error& error);
  void Waiting(int ms);

 private:
  void Take(const QByteArray& reply);

  FhirServer server_;
  FhirRequest request_;
  int pages_ = 0;
};

}  // namespace nearpoint
