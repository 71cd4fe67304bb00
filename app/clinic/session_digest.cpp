#include "app/clinic/session_digest.h"

#include <algorithm>
#include <array>

#include "app/measure/observations.h"
#include "app/records/estimate_json.h"
#include "app/records/json_number.h"
#include "app/records/session_course.h"
#include "app/records/stored_session.h"
#include "app/review/review.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr NumberRule kMm{-1000, 5000, "millimetres"};

std::optional<Band> InCorneal(const std::optional<Band>& band, ReferencePlane plane) {
  if (!band) return std::nullopt;
  const double shift = MoveToPlane(Length(), plane, ReferencePlane::kCorneal).mm();
  Band moved = *band;
  if (moved.value) moved.value = *moved.value + shift;
  moved.low = std::max(0.0, moved.low + shift);
  if (moved.high) moved.high = *moved.high + shift;
  return moved;
}

std::optional<Band> ReadBand(const nlohmann::json& json, const std::string& where,
                             JsonFields& outer, const char* name) {
  if (!json.contains(name) || json.at(name).is_null()) return std::nullopt;
  JsonFields fields(json.at(name), where, std::string(name) + ".");
  Band band;
  band.value = fields.NumberOrNull("value", kMm);
  band.low = fields.Number("low", kMm);
  band.high = fields.NumberOrNull("high", kMm);
  band.level = fields.Number("level", {0.5, 1, "a level"});
  outer.Adopt(fields);
  return band;
}

OrderedJson PointToJson(const std::optional<SessionPoint>& point) {
  if (!point) return nullptr;
  OrderedJson json;
  json["trials"] = point->trials;
  json["value_mm"] = JsonNumber(point->value_mm, 6);
  json["sd_mm"] = JsonNumber(point->sd_mm, 6);
  json["censored"] = ToText(point->censored);
  json["breaks_mm"] = point->breaks_mm;
  json["relative_sd"] = JsonNumber(point->shared.relative_sd, 8);
  json["offset_sd_mm"] = JsonNumber(point->shared.offset_sd.mm(), 6);
  json["lag_sd_ms"] = JsonMs(point->shared.lag_sd);
  json["shared_sd_mm"] = JsonNumber(point->shared_sd_mm, 6);
  return json;
}

SessionPoint ReadPoint(const nlohmann::json& json, const std::string& where, JsonFields& outer) {
  JsonFields fields(json, where, "point.");
  SessionPoint point;
  point.trials = fields.Integer("trials", 0, 100000, "a number of trials");
  point.value_mm = fields.Number("value_mm", kMm);
  point.sd_mm = fields.Number("sd_mm", kMm);
  const std::string censored = fields.Text("censored", "\"below\", \"above\" or \"\"");
  for (const Censoring known : {Censoring::kBelow, Censoring::kAbove}) {
    if (ToText(known) == censored) point.censored = known;
  }
  for (const nlohmann::json& value : fields.Array("breaks_mm")) {
    if (value.is_number()) point.breaks_mm.push_back(value.get<double>());
  }
  point.shared.relative_sd = fields.Number("relative_sd", {0, 1, "a fraction"});
  point.shared.offset_sd = Length::Millimeters(fields.Number("offset_sd_mm", kMm));
  point.shared.lag_sd = FromMilliseconds(fields.Number("lag_sd_ms", {0, 10000, "milliseconds"}));
  point.shared_sd_mm = fields.Number("shared_sd_mm", kMm);
  outer.Adopt(fields);
  return point;
}

bool AnyTrialChanged(const AuditLog& review) {
  return std::ranges::any_of(review.entries(),
                             [](const AuditEntry& entry) { return entry.trial.has_value(); });
}

}  // namespace

Result<SessionDigest> DigestOf(std::string_view session_text, const AuditLog& review,
                               double received_day, const std::string& where) {
  const auto session = ParseStoredSession(session_text, where);
  if (!session) return tl::unexpected(session.error());
  const auto course = ParseSessionCourse(session_text, where);
  if (!course) return tl::unexpected(course.error());
  const auto reviewed = ApplyReview(session->data.trials, review.entries());
  if (!reviewed) {
    return Fail(reviewed.error().code, where + ": " + reviewed.error().message);
  }
  SessionDigest digest;
  digest.day = received_day;
  if (const auto& moment = session->data.started_at) {
    digest.started_at = moment->text;
    digest.day = moment->days();
    digest.hour = moment->hour;
  }
  digest.changed = AnyTrialChanged(review);
  Estimate estimate = session->estimate;
  if (digest.changed) {
    EstimateOptions options;
    options.cut_off = session->estimate.cut_off;
    options.plane = session->plane;
    estimate = EstimateNearPoint(reviewed->trials, session->data.shared, options);
  }
  digest.break_mm = InCorneal(estimate.break_mm, session->plane);
  digest.recovery_mm = InCorneal(estimate.recovery_mm, session->plane);
  digest.answer = estimate.answer;
  digest.cut_off = MoveToPlane(estimate.cut_off, session->plane, ReferencePlane::kCorneal);
  digest.point = MakeSessionPoint(reviewed->trials, session->data.shared, digest.day, digest.hour);
  digest.trials = static_cast<int>(reviewed->trials.size());
  digest.used = static_cast<int>(std::ranges::count_if(reviewed->trials, Counts));
  digest.eyes_disagree = course->eyes_disagree;
  digest.seen = course->seen;
  digest.comfort = course->comfort;
  digest.simulated = session->source.starts_with("simulated patient");
  digest.accepted = reviewed->accepted;
  return digest;
}

std::string SerializeDigest(const SessionDigest& digest) {
  OrderedJson json;
  json["schema"] = "nearpoint/digest/1";
  json["started_at"] = digest.started_at;
  json["day"] = JsonNumber(digest.day, 8);
  json["hour"] = digest.hour ? JsonNumber(*digest.hour, 6) : OrderedJson();
  json["break_mm"] = BandToJson(digest.break_mm);
  json["recovery_mm"] = BandToJson(digest.recovery_mm);
  const SessionDigest::Said said =
      digest.said.value_or(SessionDigest::Said{digest.cut_off, digest.answer});
  json["answer"] = ToText(said.answer);
  json["cut_off_mm"] = JsonNumber(said.cut_off.mm(), 4);
  json["point"] = PointToJson(digest.point);
  json["trials"] = digest.trials;
  json["used"] = digest.used;
  json["eyes_disagree"] = digest.eyes_disagree;
  json["seen"] = digest.seen ? JsonNumber(*digest.seen, 6) : OrderedJson();
  json["comfort"] = digest.comfort;
  json["simulated"] = digest.simulated;
  json["accepted"] = digest.accepted;
  json["changed"] = digest.changed;
  return json.dump(-1, ' ', false, OrderedJson::error_handler_t::replace);
}

Result<SessionDigest> ParseDigest(std::string_view text, const std::string& where) {
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  if (auto schema = CheckSchema(*document, "digest", where); !schema) {
    return tl::unexpected(schema.error());
  }
  JsonFields fields(*document, where);
  SessionDigest digest;
  digest.started_at = fields.Text("started_at", "a moment");
  digest.day = fields.Number("day", {-1e6, 1e6, "days since 1970"});
  digest.hour = fields.NumberOrNull("hour", {0, 24, "an hour"});
  digest.break_mm = ReadBand(*document, where, fields, "break_mm");
  digest.recovery_mm = ReadBand(*document, where, fields, "recovery_mm");
  const std::string answer = fields.Text("answer", "an answer");
  for (const Answer known : {Answer::kBeyond, Answer::kWithin, Answer::kCannotTell}) {
    if (ToText(known) == answer) digest.answer = known;
  }
  digest.cut_off = Length::Millimeters(fields.Number("cut_off_mm", kMm));
  if (document->contains("point") && document->at("point").is_object()) {
    digest.point = ReadPoint(document->at("point"), where, fields);
    digest.point->day = digest.day;
    digest.point->hour = digest.hour;
  }
  digest.trials = fields.Integer("trials", 0, 100000, "a number of trials");
  digest.used = fields.Integer("used", 0, 100000, "a number of trials");
  digest.seen = fields.NumberOrNull("seen", {0, 1, "a fraction"});
  digest.comfort = fields.Text("comfort", "a word");
  const auto truth = [&](const char* name) {
    const auto found = document->find(name);
    if (found == document->end() || !found->is_boolean()) fields.Refuse(name, "true or false");
    return fields.ok() && found->get<bool>();
  };
  digest.eyes_disagree = truth("eyes_disagree");
  digest.simulated = truth("simulated");
  digest.accepted = truth("accepted");
  digest.changed = truth("changed");
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return digest;
}

bool PoorQuality(const SessionDigest& digest) {
  constexpr int kLeastTrials = 3;
  constexpr double kLeastSeen = 0.8;
  return digest.used < kLeastTrials || digest.trials - digest.used > digest.used ||
         (digest.seen && *digest.seen < kLeastSeen);
}

}  // namespace nearpoint
