#include "app/exchange/fhir.h"

#include <sodium.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "app/records/json_number.h"
#include "app/records/moment.h"

namespace nearpoint {
namespace {

using Json = nlohmann::ordered_json;

struct Code {
  const char* code;
  const char* display;
  const char* definition;
};

constexpr Code kNearPoint{"near-point-of-convergence", "Near point of convergence",
                          "Distance of a target at which it doubles when it comes nearer, or at "
                          "which one eye leaves it, and at which both recover."};
constexpr Code kBreak{"break", "Break", "Distance at which the target doubles."};
constexpr Code kBreakBand{"break-band", "Confidence band of the break",
                          "Ends of the 95 % confidence band of the break."};
constexpr Code kRecovery{"recovery", "Recovery",
                         "Distance at which the target becomes single again."};
constexpr Code kRecoveryBand{"recovery-band", "Confidence band of the recovery",
                             "Ends of the 95 % confidence band of the recovery."};
constexpr Code kRecession{"recession-per-trial", "Recession from trial to trial",
                          "Change of the break from one trial to the next; positive: farther."};
constexpr Code kSpread{"between-trial-sd", "Spread between trials",
                       "Standard deviation of the break from trial to trial."};
constexpr Code kTrials{"trials-used", "Trials used", "Number of trials that count."};
constexpr Code kMethod{
    "approach-until-double", "Approach with reported doubling",
    "Target and eyes approach each other; the person reports when it doubles and "
    "when it is single again; the distance is measured by camera or ruler."};
constexpr Code kReport{"near-point-report", "Report of the near point of convergence",
                       "A screening measurement of the near point of convergence; no diagnosis."};
constexpr Code kSealedFile{"sealed-file", "Sealed file",
                           "Measurements that only their recipient can open (fhir_mailbox.h)."};
constexpr std::array kCodes{kNearPoint, kBreak,  kBreakBand, kRecovery, kRecoveryBand, kRecession,
                            kSpread,    kTrials, kMethod,    kReport,   kSealedFile};

Json Concept(const Code& code) {
  return {
      {"coding",
       Json::array({{{"system", kCodeSystem}, {"code", code.code}, {"display", code.display}}})},
      {"text", code.display}};
}

Json Quantity(double value, const char* unit, const char* ucum, const char* comparator = nullptr) {
  Json json;
  json["value"] = JsonNumber(value, 1);
  if (comparator != nullptr) json["comparator"] = comparator;
  json["unit"] = unit;
  json["system"] = "http://unitsofmeasure.org";
  json["code"] = ucum;
  return json;
}

Json Millimetres(double value, const char* comparator = nullptr) {
  return Quantity(value, "mm", "mm", comparator);
}

// The value, a bound with its comparator, or why there is none.
Json ValueComponent(const Code& code, const std::optional<Band>& band) {
  Json json{{"code", Concept(code)}};
  if (band && band->value) {
    json["valueQuantity"] = Millimetres(*band->value);
  } else if (band && band->high) {
    json["valueQuantity"] = Millimetres(*band->high, "<");
  } else if (band) {
    json["valueQuantity"] = Millimetres(band->low, ">");
  } else {
    json["dataAbsentReason"] = {
        {"coding",
         Json::array({{{"system", "http://terminology.hl7.org/CodeSystem/data-absent-reason"},
                       {"code", "unknown"}}})},
        {"text", "No trial gives it."}};
  }
  return json;
}

Json BandComponent(const Code& code, const Band& band) {
  Json range{{"low", Millimetres(band.low)}};
  if (band.high) range["high"] = Millimetres(*band.high);
  return {{"code", Concept(code)}, {"valueRange", range}};
}

std::string Uuid(std::string_view session_text, std::string_view role) {
  std::array<std::uint8_t, 16> hash{};
  crypto_generichash(
      hash.data(), hash.size(), reinterpret_cast<const unsigned char*>(session_text.data()),
      session_text.size(), reinterpret_cast<const unsigned char*>(role.data()), role.size());
  hash[6] = static_cast<std::uint8_t>((hash[6] & 0x0f) | 0x80);  // version 8: of our own making
  hash[8] = static_cast<std::uint8_t>((hash[8] & 0x3f) | 0x80);
  std::string text;
  for (std::size_t i = 0; i < hash.size(); ++i) {
    char byte[3];
    std::snprintf(byte, sizeof byte, "%02x", hash[i]);
    text += (i == 4 || i == 6 || i == 8 || i == 10 ? "-" : "") + std::string(byte);
  }
  return text;
}

// FHIR wants seconds and an offset with every time of day; without them the day alone is said.
std::string EffectiveOf(const Moment& moment) {
  constexpr std::size_t kDay = 10;
  std::string text = moment.text;
  const bool offset =
      text.ends_with('Z') || (text.size() > 6 && text[text.size() - 3] == ':' &&
                              (text[text.size() - 6] == '+' || text[text.size() - 6] == '-'));
  if (!moment.hour || !offset) return text.substr(0, kDay);
  text[kDay] = 'T';
  constexpr std::size_t kMinutes = 16;
  if (text[kMinutes] != ':') text.insert(kMinutes, ":00");
  return text;
}

bool IsInstant(const std::string& text) {
  const auto moment = ParseMoment(text);
  return moment && moment->hour && EffectiveOf(*moment) == text;
}

std::string Rounded(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f", value);
  return text;
}

// A limit is given as exactly as it was set.
std::string Exact(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%g", std::round(value * 10) / 10);
  return text;
}

std::string MethodText(const StoredSession& session) {
  std::string text = kMethod.display;
  text += "; target: " + session.target.value_or("not stated");
  double sum = 0;
  int count = 0;
  for (const Trial& trial : session.data.trials) {
    if (trial.set_aside || !trial.approach_speed) continue;
    sum += trial.approach_speed->mm_per_s();
    ++count;
  }
  text += count > 0 ? "; mean speed of approach " + Rounded(sum / count) + " mm/s"
                    : "; speed of approach not known";
  text += "; " + std::to_string(session.estimate.trials_used) + " of " +
          std::to_string(session.data.trials.size()) + " trials used";
  text += "; counted from the " + session.estimate.reference_plane;
  return text;
}

class BundleMaker {
 public:
  BundleMaker(const StoredSession& session, std::string_view text, const FhirOptions& options)
      : session_(session), text_(text), options_(options) {
    if (!options.entry.empty()) text_ += "\nentry " + options.entry;
  }

  Json Make() {
    Json bundle{{"resourceType", "Bundle"},
                {"identifier", IdentifierOf("bundle")},
                {"type", options_.transaction ? "transaction" : "collection"}};
    if (!options_.transaction) bundle["timestamp"] = options_.recorded;
    bundle["entry"] = Json::array();
    Add(bundle, "device", Device());
    Add(bundle, "observation", Observation());
    Add(bundle, "report", Report());
    Add(bundle, "provenance", Provenance());
    return bundle;
  }

 private:
  [[nodiscard]] std::string IdOf(std::string_view role) const {
    if (role == "device") return Uuid("installation " + options_.installation, role);
    return Uuid(text_, role);
  }
  [[nodiscard]] Json IdentifierOf(const char* role) const {
    // The bare UUID: a server that gives ids of its own rewrites whatever reads like a reference.
    return {{"system", kIdentifierSystem}, {"value", IdOf(role)}};
  }
  [[nodiscard]] Json ReferenceTo(const char* role) const {
    return {{"reference", "urn:uuid:" + IdOf(role)}};
  }
  [[nodiscard]] Json Subject() const {
    return {{"type", "Patient"},
            {"identifier", {{"system", options_.subject_system}, {"value", options_.subject}}},
            {"display", options_.subject}};
  }
  [[nodiscard]] const char* Status() const { return options_.reviewed ? "final" : "preliminary"; }

  void Add(Json& bundle, const char* role, Json resource) const {
    const std::string id = IdOf(role);
    Json entry{{"fullUrl", "urn:uuid:" + id}};
    if (options_.transaction) {
      // The id stands right behind the type, where readers of JSON look for it.
      Json with_id{{"resourceType", resource["resourceType"]}, {"id", id}};
      with_id.update(resource);
      resource = std::move(with_id);
    }
    const std::string url = resource["resourceType"].get<std::string>() + "/" + id;
    entry["resource"] = std::move(resource);
    if (options_.transaction) entry["request"] = {{"method", "PUT"}, {"url", url}};
    bundle["entry"].push_back(std::move(entry));
  }

  [[nodiscard]] Json Device() const {
    Json json{
        {"resourceType", "Device"},
        {"identifier", Json::array({IdentifierOf("device")})},
        {"status", "active"},
        {"deviceName", Json::array({{{"name", "nearpoint"}, {"type", "user-friendly-name"}}})},
        {"type", {{"text", "Software that measures the near point of convergence"}}}};
    if (session_.software) json["version"] = Json::array({{{"value", *session_.software}}});
    return json;
  }

  void SetEffective(Json& json) const {
    const auto& moment = session_.data.started_at;
    if (moment) json["effectiveDateTime"] = EffectiveOf(*moment);
  }

  [[nodiscard]] Json Observation() const {
    const Estimate& estimate = session_.estimate;
    Json json{{"resourceType", "Observation"},
              {"identifier", Json::array({IdentifierOf("observation")})},
              {"status", Status()},
              {"category",
               Json::array(
                   {{{"coding",
                      Json::array({{{"system",
                                     "http://terminology.hl7.org/CodeSystem/observation-category"},
                                    {"code", "exam"}}})}}})},
              {"code", Concept(kNearPoint)},
              {"subject", Subject()}};
    SetEffective(json);
    json["interpretation"] = Json::array({{{"text", ToText(estimate.answer)}}});
    std::vector<std::string> notes = session_.cautions;
    notes.emplace_back("A screening measurement, not a diagnosis.");
    json["note"] = Json::array();
    for (const std::string& note : notes) json["note"].push_back({{"text", note}});
    Json method = Concept(kMethod);
    method["text"] = MethodText(session_);
    json["method"] = method;
    json["device"] = ReferenceTo("device");
    json["component"] = Components();
    return json;
  }

  [[nodiscard]] Json Components() const {
    const Estimate& estimate = session_.estimate;
    Json list = Json::array();
    Json at_break = ValueComponent(kBreak, estimate.break_mm);
    std::string limit =
        "At or within " + Exact(estimate.cut_off.mm()) + " mm from the " + estimate.reference_plane;
    if (!session_.cut_off_from.empty()) limit += ": " + session_.cut_off_from;
    at_break["referenceRange"] =
        Json::array({{{"high", Millimetres(estimate.cut_off.mm())}, {"text", limit}}});
    list.push_back(at_break);
    if (estimate.break_mm) list.push_back(BandComponent(kBreakBand, *estimate.break_mm));
    list.push_back(ValueComponent(kRecovery, estimate.recovery_mm));
    if (estimate.recovery_mm) list.push_back(BandComponent(kRecoveryBand, *estimate.recovery_mm));
    if (estimate.trend_mm_per_trial && estimate.trend_mm_per_trial->value) {
      list.push_back({{"code", Concept(kRecession)},
                      {"valueQuantity", Quantity(*estimate.trend_mm_per_trial->value,
                                                 "mm per trial", "mm/{trial}")}});
    }
    if (estimate.between_trial_sd_mm) {
      list.push_back({{"code", Concept(kSpread)},
                      {"valueQuantity", Millimetres(*estimate.between_trial_sd_mm)}});
    }
    list.push_back({{"code", Concept(kTrials)}, {"valueInteger", estimate.trials_used}});
    return list;
  }

  [[nodiscard]] Json Report() const {
    Json json{{"resourceType", "DiagnosticReport"},
              {"identifier", Json::array({IdentifierOf("report")})},
              {"status", Status()},
              {"code", Concept(kReport)},
              {"subject", Subject()}};
    SetEffective(json);
    json["issued"] = options_.recorded;
    json["result"] = Json::array({ReferenceTo("observation")});
    json["conclusion"] = Conclusion();
    return json;
  }

  [[nodiscard]] std::string Conclusion() const {
    const Estimate& estimate = session_.estimate;
    std::string text = "Near point of convergence: " + std::string(ToText(estimate.answer)) +
                       " of " + Exact(estimate.cut_off.mm()) + " mm";
    if (estimate.break_mm && estimate.break_mm->value) {
      text += "; break " + Rounded(*estimate.break_mm->value) + " mm, 95 % band " +
              Rounded(estimate.break_mm->low) + " to " + Rounded(*estimate.break_mm->high) + " mm";
    }
    return text + "; counted from the " + estimate.reference_plane +
           ". A screening measurement, not a diagnosis.";
  }

  [[nodiscard]] Json Provenance() const {
    // Its type has no identifiers; a tag is what it is found again by.
    return {
        {"resourceType", "Provenance"},
        {"meta",
         {{"tag", Json::array({{{"system", kIdentifierSystem}, {"code", IdOf("provenance")}}})}}},
        {"target", Json::array({ReferenceTo("observation"), ReferenceTo("report")})},
        {"recorded", options_.recorded},
        {"agent", Json::array({{{"type", {{"text", "Assembled by the software"}}},
                                {"who", ReferenceTo("device")}}})},
        {"entity", Json::array({{{"role", "source"},
                                 {"what",
                                  {{"identifier", IdentifierOf("session")},
                                   {"display", "SESSION.json of nearpoint"}}}}})}};
  }

  const StoredSession& session_;
  std::string text_;  // that ids are drawn from
  const FhirOptions& options_;
};

}  // namespace

Result<Json> SessionToFhir(const StoredSession& session, std::string_view session_text,
                           const FhirOptions& options) {
  if (session.source.starts_with("simulated patient")) {
    return Fail(ErrorCode::kBadValue,
                "The session is of a simulated patient; it does not belong into a health record.");
  }
  if (options.subject.empty() || options.subject_system.empty()) {
    return Fail(ErrorCode::kBadValue,
                "Whose session it is must be stated, as a pseudonym or a record number.");
  }
  if (!IsInstant(options.recorded)) {
    return Fail(ErrorCode::kBadValue, "\"" + options.recorded +
                                          "\" is no moment for an export; expected one like "
                                          "2026-03-02T07:45:00Z.");
  }
  return BundleMaker(session, session_text, options).Make();
}

Json CodeSystemToFhir() {
  Json json{{"resourceType", "CodeSystem"},
            {"url", kCodeSystem},
            {"version", "1"},
            {"name", "NearpointCodes"},
            {"title", "Codes of nearpoint"},
            {"status", "active"},
            {"description",
             "What nearpoint measures, where no code of a public system was "
             "verified."},
            {"caseSensitive", true},
            {"content", "complete"}};
  json["concept"] = Json::array();
  for (const Code& code : kCodes) {
    json["concept"].push_back(
        {{"code", code.code}, {"display", code.display}, {"definition", code.definition}});
  }
  return json;
}

}  // namespace nearpoint
