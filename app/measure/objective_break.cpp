#include "app/measure/objective_break.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

#include "app/measure/local_fit.h"
#include "app/measure/shown_number.h"

namespace nearpoint {
namespace {

// The distance at a moment, its deviation grown by the moment's own.
std::optional<UncertainLength> DistanceAt(std::span<const DistanceSample> samples, Time time,
                                          Time time_sd, const ObjectiveOptions& options) {
  std::vector<FitPoint> points;
  for (const DistanceSample& s : samples) {
    if (s.time < time - options.fit_before) continue;
    if (s.time > time + options.fit_after) break;
    if (s.mode == TrackMode::kLost || !s.distance) continue;
    const double sd = s.distance->sd.mm();
    points.push_back({.time_s = ToSeconds(s.time - time),
                      .value = s.distance->value.mm(),
                      .sd = std::isfinite(sd) && sd > 0 ? sd : 1.0});
  }
  const std::optional<LocalFit> fit = FitLocally(points);
  if (!fit) return std::nullopt;
  return UncertainLength{
      Length::Millimeters(fit->value),
      Length::Millimeters(std::hypot(fit->value_sd, fit->slope * ToSeconds(time_sd)))};
}

ObjectiveEvent MakeEvent(std::span<const DistanceSample> samples, const VergenceTrace& trace,
                         const VergenceChange& change, const ObjectiveOptions& options) {
  ObjectiveEvent event;
  event.time = trace.ToTime(change.time_s);
  event.time_sd =
      FromMilliseconds(std::hypot(1e3 * change.time_sd_s, ToMilliseconds(options.onset_model_sd)));
  event.size = change.size;
  event.size_sd = change.size_sd;
  event.distance = DistanceAt(samples, event.time, event.time_sd, options);
  return event;
}

void NoteUnsure(const ObjectiveEvent& event, const char* what, const ObjectiveOptions& options,
                std::vector<std::string>& notes) {
  if (event.time_sd <= options.sure_time) return;
  char text[160];
  std::snprintf(text, sizeof text,
                "The eyes were not seen throughout the %s, so its moment is known only to "
                "+-%.1f s.",
                what, 2 * ToSeconds(event.time_sd));
  notes.emplace_back(text);
}

std::string DriftSentence(const ObjectiveResult& result) {
  char text[200];
  char where[40] = "";
  if (result.break_point->distance) {
    std::snprintf(where, sizeof where, " at %s",
                  ShownCentimeters(result.break_point->distance->value.mm()).c_str());
  }
  std::snprintf(text, sizeof text, "%s turned outward by %.0f degrees%s.",
                result.eye == DriftingEye::kLeft    ? "The left eye"
                : result.eye == DriftingEye::kRight ? "The right eye"
                : result.eye == DriftingEye::kBoth  ? "Both eyes"
                                                    : "One eye (which one is not clear)",
                result.break_point->size.deg(), where);
  return text;
}

std::string NoDriftSentence(const ObjectiveResult& result) {
  if (!result.smallest_visible) {
    return "No eye was seen to turn outward, but too little of the eyes was seen to rule it out.";
  }
  char text[200];
  std::snprintf(text, sizeof text,
                "No eye was seen to turn outward; a turn of %.0f degrees or more near the nearest "
                "point would have been seen.",
                std::ceil(result.smallest_visible->deg()));
  return text;
}

}  // namespace

std::string_view ToText(DriftingEye eye) {
  switch (eye) {
    case DriftingEye::kLeft:
      return "the left eye";
    case DriftingEye::kRight:
      return "the right eye";
    case DriftingEye::kBoth:
      return "both eyes";
    case DriftingEye::kUnclear:
      return "one eye";
  }
  return "";
}

ObjectiveResult AnalyseVergence(std::span<const DistanceSample> trial_samples,
                                const ObjectiveOptions& options) {
  ObjectiveResult result;
  const VergenceTrace trace = CleanTrace(trial_samples, options.trace);
  result.frames = static_cast<int>(trial_samples.size());
  result.frames_used = static_cast<int>(trace.frames.size());

  const DriftFinding finding = FindDrift(trace, options.drift);
  const std::optional<double> onset =
      finding.found ? std::optional(finding.drift.time_s) : std::nullopt;
  result.fixation = CheckFixation(trial_samples, trace, onset, options.fixation);
  result.notes.push_back(result.fixation.sentence);
  switch (result.fixation.following) {
    case Following::kLeftCovered:
    case Following::kRightCovered:
      result.set_aside = SetAside::kOneEyeCovered;
      return result;
    case Following::kDoesNotFollow:
      result.set_aside = SetAside::kNotLooking;
      return result;
    case Following::kFollows:
    case Following::kCannotTell:
      break;
  }

  const double end_s = trace.frames.empty() ? 0 : trace.frames.back().time_s + 1;
  result.personal = LearnVergence(trace, onset.value_or(end_s), options.learn);
  if (!result.personal.learned) result.notes.push_back(result.personal.why_not);
  result.log_evidence = finding.log_evidence;
  result.probability = 1 / (1 + std::exp(-finding.log_evidence));
  result.smallest_visible = finding.smallest_visible;
  if (finding.glance) {
    result.notes.emplace_back(
        "Both eyes turned away from the target together; that was not counted as a break.");
  }
  if (finding.within_error) {
    result.notes.emplace_back(
        "An eye seemed to turn outward where the camera cannot tell well enough how the eyes "
        "stand; that was not counted as a break.");
  }
  if (!finding.found) {
    result.notes.push_back(NoDriftSentence(result));
    return result;
  }
  result.eye = finding.eye;
  result.eye_probability = finding.eye_probability;
  result.break_point = MakeEvent(trial_samples, trace, finding.drift, options);
  result.notes.push_back(DriftSentence(result));
  NoteUnsure(*result.break_point, "break", options, result.notes);
  if (finding.recovery) {
    result.recovery = MakeEvent(trial_samples, trace, *finding.recovery, options);
    NoteUnsure(*result.recovery, "recovery", options, result.notes);
  } else {
    result.notes.emplace_back("It had not come back to the target when the trial ended.");
  }
  return result;
}

Trial WithObjective(Trial trial, const ObjectiveResult& result) {
  if (result.break_point && result.break_point->distance) {
    trial.objective_break = result.break_point->distance->value;
  }
  if (result.recovery && result.recovery->distance) {
    trial.objective_recovery = result.recovery->distance->value;
  }
  if (result.set_aside && (!trial.set_aside || *trial.set_aside == SetAside::kNoResponse)) {
    trial.set_aside = result.set_aside;
  }
  return trial;
}

}  // namespace nearpoint
