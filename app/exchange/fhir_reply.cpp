#include "app/exchange/fhir_reply.h"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace nearpoint {

using Json = nlohmann::json;

std::string ReasonOf(std::string_view operation_outcome) {
  constexpr std::size_t kMost = 300;
  const Json json = Json::parse(operation_outcome, nullptr, /*allow_exceptions=*/false);
  if (!json.is_object() || json.value("resourceType", Json()) != "OperationOutcome") return {};
  const auto issues = json.find("issue");
  if (issues == json.end() || !issues->is_array()) return {};
  for (const Json& issue : *issues) {
    if (!issue.is_object()) continue;
    const auto words = issue.find("diagnostics");
    if (words != issue.end() && words->is_string()) {
      return words->get<std::string>().substr(0, kMost);
    }
    const auto details = issue.find("details");
    if (details == issue.end() || !details->is_object()) continue;
    const auto text = details->find("text");
    if (text != details->end() && text->is_string()) {
      return text->get<std::string>().substr(0, kMost);
    }
  }
  return {};
}

bool RefusesIds(std::string_view reply) {
  const Json json = Json::parse(reply, nullptr, /*allow_exceptions=*/false);
  if (!json.is_object() || json.value("resourceType", Json()) != "Bundle") return false;
  const auto list = json.find("entry");
  if (list == json.end() || !list->is_array()) return false;
  return std::ranges::any_of(*list, [](const Json& entry) {
    if (!entry.is_object() || !entry.contains("response")) return false;
    const Json& response = entry.at("response");
    if (!response.is_object() || !response.contains("status")) return false;
    const Json& status = response.at("status");
    if (!status.is_string()) return false;
    const std::string code = status.get<std::string>().substr(0, 3);
    return code == "400" || code == "404" || code == "405";
  });
}

bool IsCarriedOut(std::string_view reply, std::size_t entries) {
  const Json json = Json::parse(reply, nullptr, /*allow_exceptions=*/false);
  if (!json.is_object() || json.value("resourceType", Json()) != "Bundle" ||
      json.value("type", Json()) != "transaction-response") {
    return false;
  }
  const auto list = json.find("entry");
  if (list == json.end() || !list->is_array() || list->size() != entries) return false;
  return std::ranges::all_of(*list, [](const Json& entry) {
    if (!entry.is_object() || !entry.contains("response")) return false;
    const Json& response = entry.at("response");
    if (!response.is_object()) return false;
    const auto status = response.find("status");
    return status != response.end() && status->is_string() &&
           status->get_ref<const std::string&>().starts_with('2');
  });
}

}  // namespace nearpoint
