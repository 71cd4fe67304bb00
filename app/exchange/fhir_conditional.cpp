#include "app/exchange/fhir_conditional.h"

#include <nlohmann/json.hpp>

#include "app/exchange/fhir.h"

namespace nearpoint {
namespace {

using Json = nlohmann::ordered_json;

// Everything but what may stand in a query unescaped.
std::string Escaped(std::string_view text) {
  constexpr std::string_view kHex = "0123456789ABCDEF";
  std::string escaped;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const bool plain = (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
                       c == '-' || c == '.' || c == '_' || c == '~' || c == ':' || c == '/';
    if (plain) {
      escaped += c;
    } else {
      escaped += '%';
      escaped += kHex[byte >> 4U];
      escaped += kHex[byte & 15U];
    }
  }
  return escaped;
}

std::string Token(const std::string& system, const std::string& value) {
  return Escaped(system) + "%7C" + Escaped(value);
}

std::string TextOf(const Json& json, const char* name) {
  if (!json.is_object()) return {};
  const auto found = json.find(name);
  return found != json.end() && found->is_string() ? found->get<std::string>() : std::string();
}

std::optional<Json> ReadTransaction(std::string_view text) {
  Json json = Json::parse(text, nullptr, /*allow_exceptions=*/false);
  if (TextOf(json, "type") != "transaction" || !json.contains("entry") ||
      !json["entry"].is_array()) {
    return std::nullopt;
  }
  for (const Json& entry : json["entry"]) {
    if (!entry.is_object() || !entry.contains("resource") || !entry.contains("request")) {
      return std::nullopt;
    }
  }
  return json;
}

// "identifier=..." or "_tag=..." of ours; "" where the resource has neither.
std::string SearchFor(const Json& resource) {
  if (const auto list = resource.find("identifier");
      list != resource.end() && list->is_array() && !list->empty()) {
    const std::string value = TextOf(list->front(), "value");
    if (!value.empty()) return "identifier=" + Token(TextOf(list->front(), "system"), value);
  }
  if (const auto meta = resource.find("meta"); meta != resource.end() && meta->is_object()) {
    const auto tags = meta->find("tag");
    if (tags != meta->end() && tags->is_array() && !tags->empty()) {
      const std::string code = TextOf(tags->front(), "code");
      if (!code.empty()) return "_tag=" + Token(TextOf(tags->front(), "system"), code);
    }
  }
  return {};
}

}  // namespace

std::optional<std::string> WithoutChosenIds(std::string_view transaction) {
  auto json = ReadTransaction(transaction);
  if (!json) return std::nullopt;
  for (Json& entry : (*json)["entry"]) {
    Json& resource = entry["resource"];
    if (TextOf(entry["request"], "method") != "PUT") continue;
    const std::string search = SearchFor(resource);
    if (search.empty()) return std::nullopt;
    resource.erase("id");
    entry["request"]["url"] = TextOf(resource, "resourceType") + "?" + search;
  }
  return json->dump();
}

std::string PatientQuery(std::string_view transaction) {
  const auto json = ReadTransaction(transaction);
  if (!json) return {};
  for (const Json& entry : (*json)["entry"]) {
    const Json& resource = entry["resource"];
    if (!resource.contains("subject") || !resource["subject"].is_object()) continue;
    const Json& subject = resource["subject"];
    if (!subject.contains("identifier")) continue;
    const std::string system = TextOf(subject["identifier"], "system");
    const std::string value = TextOf(subject["identifier"], "value");
    if (system.empty() || value.empty() || system == kOwnSubjectSystem) continue;
    return "Patient?identifier=" + Token(system, value) + "&_count=2";
  }
  return {};
}

std::optional<std::string> WithPatient(std::string_view transaction, std::string_view answer) {
  const Json reply = Json::parse(answer, nullptr, /*allow_exceptions=*/false);
  if (TextOf(reply, "resourceType") != "Bundle" || !reply.contains("entry") ||
      !reply["entry"].is_array()) {
    return std::nullopt;
  }
  std::string id;
  for (const Json& entry : reply["entry"]) {
    if (!entry.is_object() || !entry.contains("resource")) continue;
    if (TextOf(entry["resource"], "resourceType") != "Patient") continue;
    if (!id.empty()) return std::nullopt;  // two: nobody may guess which
    id = TextOf(entry["resource"], "id");
  }
  auto json = ReadTransaction(transaction);
  if (id.empty() || !json) return std::nullopt;
  for (Json& entry : (*json)["entry"]) {
    Json& resource = entry["resource"];
    if (!resource.contains("subject") || !resource["subject"].is_object()) continue;
    resource["subject"]["reference"] = "Patient/" + id;
  }
  return json->dump();
}

}  // namespace nearpoint
