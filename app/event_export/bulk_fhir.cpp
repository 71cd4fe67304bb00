#include "app/event_export/bulk_fhir.h"

namespace nearpoint {
namespace {

using Json = nlohmann::ordered_json;

// Every "reference" that names an entry of the bundle becomes the place that entry has of its own.
void Rewrite(Json& json, const std::map<std::string, std::string>& places) {
  if (json.is_object()) {
    for (auto& [key, value] : json.items()) {
      if (key == "reference" && value.is_string()) {
        const auto place = places.find(value.get<std::string>());
        if (place != places.end()) value = place->second;
      } else {
        Rewrite(value, places);
      }
    }
  } else if (json.is_array()) {
    for (Json& item : json) Rewrite(item, places);
  }
}

}  // namespace

Result<void> BulkFhir::Add(const std::string& session_text, const std::string& where,
                           const FhirOptions& options) {
  const auto session = ParseStoredSession(session_text, where);
  if (!session) return tl::unexpected(session.error());
  FhirOptions with_ids = options;
  with_ids.transaction = true;
  auto bundle = SessionToFhir(*session, session_text, with_ids);
  if (!bundle) return tl::unexpected(bundle.error());
  std::map<std::string, std::string> places;
  for (const Json& entry : (*bundle)["entry"]) {
    places[entry["fullUrl"].get<std::string>()] = entry["request"]["url"].get<std::string>();
  }
  for (Json& entry : (*bundle)["entry"]) {
    const std::string place = entry["request"]["url"].get<std::string>();
    if (seen_[place]++ > 0) continue;
    Json& resource = entry["resource"];
    Rewrite(resource, places);
    const std::size_t slash = place.find('/');
    Json line{{"resourceType", resource["resourceType"]}, {"id", place.substr(slash + 1)}};
    line.update(resource);
    files_[place.substr(0, slash)] += line.dump() + '\n';
  }
  return {};
}

}  // namespace nearpoint
