#include "app/fhir_push/fhir_push.h"

#include <nlohmann/json.hpp>

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
    : QObject(parent),
      host_(server.base.host()),
      request_(std::move(server), patience, kMostReply) {
  connect(&request_, &FhirRequest::Answered, this, &FhirPush::Judge);
  connect(&request_, &FhirRequest::Failed, this, &FhirPush::Failed);
  connect(&request_, &FhirRequest::Waiting, this, &FhirPush::Waiting);
}

void FhirPush::Send(const QByteArray& transaction) {
  entries_ = EntriesOf(transaction);
  request_.Post(transaction);
}

void FhirPush::Judge(const QByteArray& reply, int tries) {
  if (IsCarriedOut(View(reply), entries_)) {
    emit Done(tries);
    return;
  }
  emit Failed({ErrorCode::kBadValue,
               host_.toStdString() + ": did not say that every entry was carried out."});
}

}  // namespace nearpoint
