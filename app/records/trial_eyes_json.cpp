#include "app/records/trial_eyes_json.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::array kAgreements{
    Agreement::kBothBroke,          Agreement::kNeitherBroke, Agreement::kReportWithoutDrift,
    Agreement::kDriftWithoutReport, Agreement::kApart,        Agreement::kCannotTell};
constexpr std::array kEyes{DriftingEye::kLeft, DriftingEye::kRight, DriftingEye::kBoth,
                           DriftingEye::kUnclear};
// Times are whole nanoseconds below 2^53, so that a double holds them exactly; a lag may be
// negative.
constexpr NumberRule kNanoseconds{-9.0e15, 9.0e15, "nanoseconds"};
constexpr NumberRule kMm{-10000, 10000, "millimetres"};
constexpr NumberRule kRadians{-100, 100, "radians"};
constexpr NumberRule kAnything{-1e300, 1e300, "a number"};
constexpr NumberRule kShare{0, 1, "a probability"};
constexpr int kManyFrames = 100'000'000;

Json TimeJson(const std::optional<Time>& time) {
  return time ? Json(time->count()) : Json(nullptr);
}

Json EventJson(const std::optional<ObjectiveEvent>& event) {
  if (!event) return nullptr;
  Json json{{"t_ns", event->time.count()},
            {"t_sd_ns", event->time_sd.count()},
            {"size_rad", event->size.rad()},
            {"size_sd_rad", event->size_sd.rad()},
            {"mm", nullptr},
            {"sd_mm", nullptr}};
  if (event->distance) {
    json["mm"] = event->distance->value.mm();
    json["sd_mm"] = event->distance->sd.mm();
  }
  return json;
}

Time ReadTime(JsonFields& fields, std::string_view name) {
  return Time(static_cast<Time::rep>(fields.Number(name, kNanoseconds)));
}
std::optional<Time> ReadTimeOrNull(JsonFields& fields, std::string_view name) {
  const auto ns = fields.NumberOrNull(name, kNanoseconds);
  return ns ? std::optional(Time(static_cast<Time::rep>(*ns))) : std::nullopt;
}
Angle ReadAngle(JsonFields& fields, std::string_view name) {
  return Angle::Radians(fields.Number(name, kRadians));
}

std::optional<ObjectiveEvent> ReadEvent(JsonFields& fields, const nlohmann::json& document,
                                        const std::string& name) {
  fields.Allow({name});
  if (!document.contains(name) || document.at(name).is_null()) return std::nullopt;
  JsonFields member(document.at(name), fields.where(), name + ".");
  ObjectiveEvent event;
  event.time = ReadTime(member, "t_ns");
  event.time_sd = ReadTime(member, "t_sd_ns");
  event.size = ReadAngle(member, "size_rad");
  event.size_sd = ReadAngle(member, "size_sd_rad");
  const auto mm = member.NumberOrNull("mm", kMm);
  const auto sd = member.NumberOrNull("sd_mm", kMm);
  if (mm && sd) event.distance = {Length::Millimeters(*mm), Length::Millimeters(*sd)};
  fields.Adopt(member);
  return event;
}

// A word of this program, by the words that ToText gives.
template <typename Enum, std::size_t kCount>
Enum ReadWord(JsonFields& fields, std::string_view name, const std::array<Enum, kCount>& all) {
  const std::string text = fields.Text(name, "a word of this program");
  const auto known = std::ranges::find(all, text, [](Enum e) { return std::string(ToText(e)); });
  if (known != all.end()) return *known;
  fields.Refuse(name, "a word of this program");
  return all.back();
}

void WritePersonal(Json& json, const ObjectiveResult& seen) {
  const PersonalResponse& response = seen.personal.vergence;
  json["learned"] = seen.personal.learned;
  json["why_not_learned"] = seen.personal.why_not;
  json["fixation"] = seen.fixation.sentence;
  json["response"] = {response.offset.rad(), response.gain, response.covariance(0, 0),
                      response.covariance(1, 0), response.covariance(1, 1)};
}

void ReadPersonal(JsonFields& fields, const nlohmann::json& document, ObjectiveResult& seen) {
  fields.Allow({"learned"});
  seen.personal.learned = document.value("learned", nlohmann::json()) == true;
  seen.personal.why_not = fields.Text("why_not_learned", "a sentence, or nothing");
  seen.fixation.sentence = fields.Text("fixation", "a sentence, or nothing");
  constexpr std::size_t kNumbers = 5;
  const auto numbers = fields.Numbers("response", kNumbers, kAnything);
  if (!fields.ok()) return;
  PersonalResponse& response = seen.personal.vergence;
  response.offset = Angle::Radians(numbers[0]);
  response.gain = numbers[1];
  response.covariance << numbers[2], numbers[3], numbers[3], numbers[4];
}

}  // namespace

std::string TrialEyesToText(const TrialEyes& eyes) {
  const ObjectiveResult& seen = eyes.objective;
  Json json;
  json["break"] = EventJson(seen.break_point);
  json["recovery"] = EventJson(seen.recovery);
  json["eye"] = ToText(seen.eye);
  json["eye_probability"] = seen.eye_probability;
  json["log_evidence"] = seen.log_evidence;
  json["probability"] = seen.probability;
  json["smallest_visible_rad"] =
      seen.smallest_visible ? Json(seen.smallest_visible->rad()) : Json(nullptr);
  json["set_aside"] = seen.set_aside ? Json(ToText(*seen.set_aside)) : Json(nullptr);
  json["frames"] = seen.frames;
  json["frames_used"] = seen.frames_used;
  json["notes"] = seen.notes;
  WritePersonal(json, seen);
  json["trial"] = eyes.agreement.trial;
  json["agreement"] = ToText(eyes.agreement.agreement);
  json["break_lag_ns"] = TimeJson(eyes.agreement.break_lag);
  json["recovery_lag_ns"] = TimeJson(eyes.agreement.recovery_lag);
  json["sentence"] = eyes.agreement.sentence;
  return json.dump();
}

Result<TrialEyes> TrialEyesFromText(std::string_view text, const std::string& where) {
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  if (!document->is_object()) {
    return Fail(ErrorCode::kBadValue, where + ": expected a JSON object.");
  }
  JsonFields fields(*document, where);
  TrialEyes eyes;
  ObjectiveResult& seen = eyes.objective;
  seen.break_point = ReadEvent(fields, *document, "break");
  seen.recovery = ReadEvent(fields, *document, "recovery");
  seen.eye = ReadWord(fields, "eye", kEyes);
  seen.eye_probability = fields.Number("eye_probability", kShare);
  seen.log_evidence = fields.Number("log_evidence", kAnything);
  seen.probability = fields.Number("probability", kShare);
  if (const auto visible = fields.NumberOrNull("smallest_visible_rad", kRadians)) {
    seen.smallest_visible = Angle::Radians(*visible);
  }
  if (const auto reason = fields.TextOrNull("set_aside", "a reason or null")) {
    seen.set_aside = ParseSetAside(*reason);
    if (!seen.set_aside) fields.Refuse("set_aside", "one of the reasons of this program or null");
  }
  seen.frames = fields.Integer("frames", 0, kManyFrames, "a number of frames");
  seen.frames_used = fields.Integer("frames_used", 0, kManyFrames, "a number of frames");
  for (const auto& note : fields.Array("notes")) {
    if (note.is_string()) seen.notes.push_back(note.get<std::string>());
  }
  ReadPersonal(fields, *document, seen);
  eyes.agreement.trial = fields.Integer("trial", 0, kManyFrames, "the number of the trial");
  eyes.agreement.agreement = ReadWord(fields, "agreement", kAgreements);
  eyes.agreement.break_lag = ReadTimeOrNull(fields, "break_lag_ns");
  eyes.agreement.recovery_lag = ReadTimeOrNull(fields, "recovery_lag_ns");
  eyes.agreement.sentence = fields.Text("sentence", "a sentence, or nothing");
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return eyes;
}

}  // namespace nearpoint
