#include "app/fhir_push/fhir_push.h"

#include <nlohmann/json.hpp>
#include <utility>

#include "app/exchange/fhir_conditional.h"
#include "app/exchange/fhir_reply.h"

namespace nearpoint {
namespace {

using Json = nlohmann::json;

constexpr qint64 kMostReply = 8LL << 20;

std::string_view View(const QByteArray& bytes) {
  return {bytes.constData(), static_cast<std::size_t>(bytes.size())};
}

std::size_t EntriesOf(const QByteArray& transaction) {
  const Json json = Json::parse(View(transaction), nullptr, /*allow_exceptions=*/false);
  const auto entries = json.is_object() ? json.find("entry") : json.end();
  return json.is_object() && entries != json.end() ? entries->size() : 0;
}

}  // namespace

FhirPush::FhirPush(FhirServer server, PushPatience patience, QObject* parent)
    : QObject(parent), server_(server), request_(std::move(server), patience, kMostReply) {
  connect(&request_, &FhirRequest::Answered, this, &FhirPush::Judge);
  connect(&request_, &FhirRequest::Failed, this, &FhirPush::Refused);
  connect(&request_, &FhirRequest::Waiting, this, &FhirPush::Waiting);
}

void FhirPush::Send(const QByteArray& transaction) {
  transaction_ = transaction;
  entries_ = EntriesOf(transaction);
  const std::string patient = PatientQuery(View(transaction));
  if (patient.empty()) {
    Post();
    return;
  }
  step_ = Step::kPatient;
  request_.Get(Below(server_.base, patient));
}

void FhirPush::Post() {
  step_ = Step::kChosenIds;
  request_.Post(transaction_);
}

bool FhirPush::SendWithoutIds() {
  if (step_ != Step::kChosenIds) return false;
  const auto conditional = WithoutChosenIds(View(transaction_));
  if (!conditional) return false;
  step_ = Step::kOwnIds;
  request_.Post(QByteArray::fromStdString(*conditional));
  return true;
}

void FhirPush::Judge(const QByteArray& reply, int tries) {
  if (step_ == Step::kPatient) {
    if (const auto found = WithPatient(View(transaction_), View(reply))) {
      transaction_ = QByteArray::fromStdString(*found);
    }
    Post();
    return;
  }
  if (IsCarriedOut(View(reply), entries_)) {
    emit Done(tries);
    return;
  }
  if (RefusesIds(View(reply)) && SendWithoutIds()) return;
  emit Failed({ErrorCode::kBadValue, server_.base.host().toStdString() +
                                         ": did not say that every entry was carried out."});
}

void FhirPush::Refused(const Error& error) {
  constexpr int kBad = 400, kNotFound = 404, kNotAllowed = 405;
  const int status = request_.status();
  const bool refused = status == kBad || status == kNotFound || status == kNotAllowed;
  // A server without a search for patients still takes the measurement.
  if (step_ == Step::kPatient && error.code == ErrorCode::kBadValue && status != 0) {
    Post();
    return;
  }
  if (refused && SendWithoutIds()) return;
  emit Failed(error);
}

}  // namespace nearpoint
