#include "app/records/trial_json.h"

#include <algorithm>
#include <array>
#include <limits>
#include <nlohmann/json.hpp>

#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::array kReasons{SetAside::kTooFast,      SetAside::kTrackingLost,
                              SetAside::kNoApproach,   SetAside::kResponseEarly,
                              SetAside::kNoResponse,   SetAside::kNotLooking,
                              SetAside::kOneEyeCovered};
constexpr std::array kCensorings{Censoring::kNone, Censoring::kBelow, Censoring::kAbove};
// Times are whole nanoseconds below 2^53, so that a double holds them exactly.
constexpr NumberRule kNanoseconds{0, 9.0e15, "nanoseconds"};
constexpr NumberRule kMm{-10000, 10000, "millimetres"};
constexpr NumberRule kSpeed{-100000, 100000, "millimetres a second"};

Json Mm(const std::optional<Length>& length) { return length ? Json(length->mm()) : Json(nullptr); }

Json EventJson(const std::optional<EventDistance>& at) {
  if (!at) return nullptr;
  return {{"t_ns", at->time.count()},
          {"mm", at->value.value.mm()},
          {"sd_mm", at->value.sd.mm()},
          {"uncorrected_mm", at->uncorrected.mm()},
          {"speed_mm_s", at->speed.mm_per_s()}};
}

Time ReadTime(JsonFields& fields, std::string_view name) {
  return Time(static_cast<Time::rep>(fields.Number(name, kNanoseconds)));
}

std::optional<Length> ReadMm(JsonFields& fields, std::string_view name) {
  const auto mm = fields.NumberOrNull(name, kMm);
  return mm ? std::optional(Length::Millimeters(*mm)) : std::nullopt;
}

std::optional<EventDistance> ReadEvent(JsonFields& fields, const nlohmann::json& document,
                                       const std::string& name, const std::string& where) {
  if (!document.contains(name) || document.at(name).is_null()) return std::nullopt;
  JsonFields member(document.at(name), where, name + ".");
  EventDistance at;
  at.time = ReadTime(member, "t_ns");
  at.value.value = Length::Millimeters(member.Number("mm", kMm));
  at.value.sd = Length::Millimeters(member.Number("sd_mm", kMm));
  at.uncorrected = Length::Millimeters(member.Number("uncorrected_mm", kMm));
  at.speed = Speed::MillimetersPerSecond(member.Number("speed_mm_s", kSpeed));
  fields.Adopt(member);
  return at;
}

}  // namespace

std::string TrialToText(const Trial& trial) {
  Json json;
  json["number"] = trial.number;
  json["start_ns"] = trial.start.count();
  json["end_ns"] = trial.end.count();
  json["break"] = EventJson(trial.break_point);
  json["recovery"] = EventJson(trial.recovery);
  json["censored"] = ToText(trial.censored);
  json["limit_mm"] = Mm(trial.limit);
  json["objective_break_mm"] = Mm(trial.objective_break);
  json["objective_recovery_mm"] = Mm(trial.objective_recovery);
  json["approach_speed_mm_s"] =
      trial.approach_speed ? Json(trial.approach_speed->mm_per_s()) : Json(nullptr);
  json["set_aside"] = trial.set_aside ? Json(ToText(*trial.set_aside)) : Json(nullptr);
  json["start_mm"] = Mm(trial.start_distance);
  json["nearest_mm"] = Mm(trial.nearest);
  json["valid_fraction"] = trial.valid_fraction;
  return json.dump();
}

Result<Trial> TrialFromText(std::string_view text, const std::string& where) {
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  JsonFields fields(*document, where);
  Trial trial;
  trial.number = fields.Integer("number", 1, 1000000, "the number of the trial");
  trial.start = ReadTime(fields, "start_ns");
  trial.end = ReadTime(fields, "end_ns");
  trial.break_point = ReadEvent(fields, *document, "break", where);
  trial.recovery = ReadEvent(fields, *document, "recovery", where);
  const std::string censored = fields.Text("censored", "\"\", \"below\" or \"above\"");
  const auto censoring =
      std::ranges::find(kCensorings, censored, [](Censoring c) { return ToText(c); });
  if (censoring == kCensorings.end()) {
    fields.Refuse("censored", "\"\", \"below\" or \"above\"");
  } else {
    trial.censored = *censoring;
  }
  trial.limit = ReadMm(fields, "limit_mm");
  trial.objective_break = ReadMm(fields, "objective_break_mm");
  trial.objective_recovery = ReadMm(fields, "objective_recovery_mm");
  if (const auto speed = fields.NumberOrNull("approach_speed_mm_s", kSpeed)) {
    trial.approach_speed = Speed::MillimetersPerSecond(*speed);
  }
  if (const auto reason = fields.TextOrNull("set_aside", "a reason or null")) {
    const auto known = std::ranges::find(kReasons, *reason, [](SetAside r) { return ToText(r); });
    if (known == kReasons.end()) {
      fields.Refuse("set_aside", "one of the reasons of this program or null");
    } else {
      trial.set_aside = *known;
    }
  }
  trial.start_distance = ReadMm(fields, "start_mm");
  trial.nearest = ReadMm(fields, "nearest_mm");
  trial.valid_fraction = fields.Number("valid_fraction", {0, 1, "a fraction"});
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return trial;
}

}  // namespace nearpoint
