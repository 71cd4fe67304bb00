#include "app/cli/course_commands.h"

#include <algorithm>
#include <numeric>

#include "app/cli/print_json.h"
#include "app/cli/read_sessions.h"
#include "app/measure/change.h"
#include "app/measure/progress.h"
#include "app/records/estimate_json.h"
#include "app/records/json_number.h"
#include "app/records/review_json.h"

namespace nearpoint {
namespace {

Result<NamedSession> OneSession(const std::string& file, ReferencePlane plane) {
  auto sessions = ReadSessions(file, plane);
  if (!sessions) return tl::unexpected(sessions.error());
  if (sessions->size() == 1) return std::move(sessions->front());
  return Fail(ErrorCode::kBadValue, file + ": " + std::to_string(sessions->size()) +
                                        " sessions are in it; expected one. Use progress for a "
                                        "diary.");
}

OrderedJson MomentToJson(const std::optional<Moment>& moment) {
  return moment ? OrderedJson(moment->text) : OrderedJson(nullptr);
}

OrderedJson HourToJson(const std::optional<Moment>& moment) {
  return moment && moment->hour ? JsonNumber(*moment->hour, 2) : OrderedJson(nullptr);
}

OrderedJson SessionToJson(const NamedSession& session, const EstimateOptions& options) {
  const Estimate estimate = EstimateNearPoint(session.trials, session.shared, options);
  OrderedJson json;
  json["file"] = session.file;
  json["started_at"] = MomentToJson(session.started_at);
  json["hour_of_day"] = HourToJson(session.started_at);
  json["trials_used"] = estimate.trials_used;
  json["break_mm"] = BandToJson(estimate.break_mm);
  return json;
}

}  // namespace

Result<void> RunCompare(const CompareArguments& arguments) {
  const auto earlier = OneSession(arguments.earlier, arguments.plane);
  if (!earlier) return tl::unexpected(earlier.error());
  const auto later = OneSession(arguments.later, arguments.plane);
  if (!later) return tl::unexpected(later.error());
  if (earlier->started_at && later->started_at &&
      later->started_at->days() < earlier->started_at->days()) {
    return Fail(ErrorCode::kMismatch, arguments.later + ": measured " + later->started_at->text +
                                          ", before the " + earlier->started_at->text + " of " +
                                          arguments.earlier +
                                          "; expected the earlier session first.");
  }
  const auto before = PointOf(*earlier, false);
  if (!before) return tl::unexpected(before.error());
  const auto after = PointOf(*later, false);
  if (!after) return tl::unexpected(after.error());
  const auto files = ReadAllSessions(arguments.repeats, arguments.plane);
  if (!files) return tl::unexpected(files.error());
  std::vector<SessionPoint> repeats;
  for (const NamedSession& session : *files) {
    const auto point = PointOf(session, false);
    if (!point) return tl::unexpected(point.error());
    repeats.push_back(*point);
  }
  const ChangeResult change = CompareSessions(*before, *after, repeats);
  EstimateOptions options;
  options.plane = arguments.plane;
  OrderedJson json;
  json["schema"] = "nearpoint/comparison/1";
  json["earlier"] = SessionToJson(*earlier, options);
  json["later"] = SessionToJson(*later, options);
  json.update(ChangeToJson(change));
  // ISO 5725, of single trials: a session's own scatter, pooled over the two.
  const std::vector<SessionPoint> both{*before, *after};
  const auto variation = SeparateVariation(both);
  json["within_session_sd_mm"] = nullptr;
  json["trial_repeatability_limit_mm"] = nullptr;
  if (variation) {
    json["within_session_sd_mm"] = JsonNumber(variation->within_sd, 4);
    json["trial_repeatability_limit_mm"] =
        JsonNumber(RepeatabilityLimit(variation->within_sd, variation->within_degrees), 4);
  }
  json["same_calibration"] = SameCalibration(*before, *after);
  json["reference_plane"] = ToText(arguments.plane);
  std::vector<std::string> cautions;
  if (change.hours_differ) {
    cautions.emplace_back(
        "The sessions were measured more than three hours apart in the day; eyes tire, so measure "
        "again at the same time of day.");
  } else if (!before->hour || !after->hour) {
    cautions.emplace_back(
        "The time of day is unknown: a difference between morning and evening is not a change.");
  }
  json["cautions"] = cautions;
  return PrintJson(json);
}

Result<void> RunProgress(const ProgressArguments& arguments) {
  const auto sessions = ReadAllSessions(arguments.files, arguments.estimate.plane);
  if (!sessions) return tl::unexpected(sessions.error());
  std::vector<SessionPoint> unordered;
  for (const NamedSession& session : *sessions) {
    const auto point = PointOf(session, true);
    if (!point) return tl::unexpected(point.error());
    unordered.push_back(*point);
  }
  std::vector<std::size_t> order(sessions->size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return unordered[i].day; });
  std::vector<SessionPoint> points;
  points.reserve(order.size());
  for (const std::size_t i : order) points.push_back(unordered[i]);

  const EstimateOptions options = OptionsOf(arguments.estimate);
  const Progress progress = EstimateProgress(points, options);
  OrderedJson json;
  json["schema"] = "nearpoint/progress/1";
  json.update(ProgressToJson(progress));
  for (std::string& caution : NormCautions(arguments.estimate)) json["cautions"].push_back(caution);
  json["cut_off_mm"] = JsonMm(std::optional(options.cut_off));
  json["cut_off_from"] = CutOffSource(arguments.estimate);
  json["reference_plane"] = ToText(options.plane);
  json["sessions"] = OrderedJson::array();
  for (std::size_t i = 0; i < order.size(); ++i) {
    OrderedJson session = SessionToJson((*sessions)[order[i]], options);
    session["counted"] = progress.sessions[i].counted;
    session["why_not"] = nullptr;
    if (!progress.sessions[i].counted) session["why_not"] = progress.sessions[i].why_not;
    session["line_mm"] = BandToJson(progress.sessions[i].line_mm);
    json["sessions"].push_back(session);
  }
  return PrintJson(json);
}

}  // namespace nearpoint
