#include "app/records/session_course.h"

#include <algorithm>
#include <cmath>

#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

using Json = nlohmann::json;

std::optional<double> NumberAt(const Json& json, const char* name) {
  if (!json.is_object()) return std::nullopt;
  const auto found = json.find(name);
  if (found == json.end() || !found->is_number()) return std::nullopt;
  const double number = found->get<double>();
  constexpr double kMost = 1e9;  // beyond it a time in nanoseconds does not fit
  if (!std::isfinite(number) || std::abs(number) > kMost) return std::nullopt;
  return number;
}

std::optional<Time> TimeAt(const Json& json, const char* name) {
  const auto ms = NumberAt(json, name);
  return ms ? std::optional(FromMilliseconds(*ms)) : std::nullopt;
}

std::optional<Length> LengthAt(const Json& json, const char* name) {
  const auto mm = NumberAt(json, name);
  return mm ? std::optional(Length::Millimeters(*mm)) : std::nullopt;
}

std::string TextAt(const Json& json, const char* name) {
  if (!json.is_object()) return {};
  const auto found = json.find(name);
  return found != json.end() && found->is_string() ? found->get<std::string>() : std::string();
}

std::vector<std::string> SentencesAt(const Json& json, const char* name) {
  std::vector<std::string> sentences;
  if (!json.is_object()) return sentences;
  const auto found = json.find(name);
  if (found == json.end() || !found->is_array()) return sentences;
  for (const Json& item : *found) {
    if (item.is_string()) sentences.push_back(item.get<std::string>());
  }
  return sentences;
}

TrialCourse TrialOf(const Json& json, int place) {
  TrialCourse trial;
  constexpr double kMostTrials = 100000;
  const double number = NumberAt(json, "number").value_or(place);
  trial.number = number >= 1 && number <= kMostTrials ? static_cast<int>(number) : place;
  trial.start = TimeAt(json, "start_t_ms");
  trial.reported_double = TimeAt(json, "break_t_ms");
  trial.reported_single = TimeAt(json, "recovery_t_ms");
  trial.end = TimeAt(json, "end_t_ms");
  trial.eyes_left = TimeAt(json, "objective_break_t_ms");
  trial.eyes_back = TimeAt(json, "objective_recovery_t_ms");
  trial.left_at = LengthAt(json, "objective_break_mm");
  trial.back_at = LengthAt(json, "objective_recovery_mm");
  trial.drifting_eye = TextAt(json, "drifting_eye");
  if (const auto seen = NumberAt(json, "valid_fraction")) trial.seen = std::clamp(*seen, 0.0, 1.0);
  trial.agreement = TextAt(json, "agreement");
  trial.notes = SentencesAt(json, "notes");
  return trial;
}

}  // namespace

Result<SessionCourse> ParseSessionCourse(std::string_view text, const std::string& where) {
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  if (auto schema = CheckSchema(*document, "session", where); !schema) {
    return tl::unexpected(schema.error());
  }
  SessionCourse course;
  if (const auto trials = document->find("trials");
      trials != document->end() && trials->is_array()) {
    for (const Json& trial : *trials) {
      course.trials.push_back(TrialOf(trial, static_cast<int>(course.trials.size()) + 1));
    }
  }
  course.comfort = TextAt(*document, "comfort");
  if (const auto agreement = document->find("agreement"); agreement != document->end()) {
    course.agreement = SentencesAt(*agreement, "sentences");
    if (agreement->is_object()) {
      const auto flagged = agreement->find("flagged");
      course.eyes_disagree =
          flagged != agreement->end() && flagged->is_boolean() && flagged->get<bool>();
    }
  }
  if (const auto frames = document->find("frames"); frames != document->end()) {
    const double seen = NumberAt(*frames, "seen").value_or(0);
    const double lost = NumberAt(*frames, "without_distance").value_or(0);
    if (seen > 0) course.seen = std::clamp(1 - lost / seen, 0.0, 1.0);
  }
  return course;
}

Result<std::string> WithComfort(std::string_view session_text, std::string_view comfort) {
  constexpr const char* kWhere = "session";
  auto document = nlohmann::ordered_json::parse(session_text, nullptr, /*allow_exceptions=*/false);
  if (!document.is_object()) {
    return Fail(ErrorCode::kBadValue, std::string(kWhere) + ": is not a JSON object.");
  }
  document["comfort"] =
      comfort.empty() ? nlohmann::ordered_json() : nlohmann::ordered_json(comfort);
  return document.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

}  // namespace nearpoint
