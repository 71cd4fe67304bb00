#include "app/measure/fixation.h"

#include <algorithm>
#include <cstdio>
#include <vector>

namespace nearpoint {
namespace {

// The end of the approach: when the target was nearest.
std::optional<Time> NearestTime(std::span<const DistanceSample> samples) {
  const DistanceSample* nearest = nullptr;
  for (const DistanceSample& s : samples) {
    if (s.distance && (nearest == nullptr || s.distance->value < nearest->distance->value)) {
      nearest = &s;
    }
  }
  if (nearest == nullptr) return std::nullopt;
  return nearest->time;
}

Following CoveredEye(std::span<const DistanceSample> samples, const FixationOptions& options) {
  const std::optional<Time> end = NearestTime(samples);
  if (!end) return Following::kCannotTell;
  int both = 0;
  int left_only = 0;
  int right_only = 0;
  for (const DistanceSample& s : samples) {
    if (s.time > *end) break;
    if (s.left_eye && s.right_eye) ++both;
    if (s.left_eye && !s.right_eye) ++left_only;
    if (!s.left_eye && s.right_eye) ++right_only;
  }
  const int seen = both + left_only + right_only;
  if (seen < options.min_frames) return Following::kCannotTell;
  const double enough = options.covered_share * seen;
  if (right_only >= enough) return Following::kLeftCovered;
  if (left_only >= enough) return Following::kRightCovered;
  return Following::kFollows;
}

std::vector<VergenceFrame> Until(const VergenceTrace& trace, double time_s) {
  std::vector<VergenceFrame> frames;
  for (const VergenceFrame& f : trace.frames) {
    if (f.time_s < time_s) frames.push_back(f);
  }
  return frames;
}

struct Judged {
  Following following = Following::kCannotTell;
  std::optional<PersonalResponse> response;
};

Judged Judge(const std::vector<VergenceFrame>& frames, std::optional<double> step_s,
             const FixationOptions& options) {
  if (static_cast<int>(frames.size()) < options.min_frames) return {};
  const auto [least, greatest] =
      std::ranges::minmax_element(frames, {}, &VergenceFrame::demand_deg);
  if (greatest->demand_deg - least->demand_deg < options.min_demand_range.deg()) return {};
  Judged judged;
  judged.response = FitResponse(frames, Measured::kVergence, step_s);
  const double gain = judged.response->gain;
  const double sd = judged.response->gain_sd();
  const double below =
      step_s ? options.not_following_below_after_drift : options.not_following_below;
  if (gain + options.not_following_deviations * sd < below) {
    judged.following = Following::kDoesNotFollow;
  } else if (gain - options.follows_deviations * sd > options.follows_above) {
    judged.following = Following::kFollows;
  }
  return judged;
}

std::string Describe(Following following, const std::optional<PersonalResponse>& response) {
  char text[200];
  switch (following) {
    case Following::kFollows:
      std::snprintf(
          text, sizeof text,
          "The eyes turned inward in step with the target (%.2f of what it asked, +-%.2f).",
          response->gain, 2 * response->gain_sd());
      return text;
    case Following::kDoesNotFollow:
      std::snprintf(text, sizeof text,
                    "The eyes did not turn inward with the target (%.2f of what it asked, +-%.2f): "
                    "the patient looked elsewhere, or with one eye only.",
                    response->gain, 2 * response->gain_sd());
      return text;
    case Following::kLeftCovered:
      return "The left eye was shut or covered for most of the approach.";
    case Following::kRightCovered:
      return "The right eye was shut or covered for most of the approach.";
    case Following::kCannotTell:
      break;
  }
  return "Too little was seen of both eyes to tell whether they followed the target.";
}

}  // namespace

FixationCheck CheckFixation(std::span<const DistanceSample> samples, const VergenceTrace& trace,
                            std::optional<double> drift_onset_s, const FixationOptions& options) {
  FixationCheck check;
  const Following covered = CoveredEye(samples, options);
  if (covered == Following::kLeftCovered || covered == Following::kRightCovered) {
    check.following = covered;
    check.sentence = Describe(covered, std::nullopt);
    return check;
  }
  const std::optional<Time> nearest = NearestTime(samples);
  const double end_s = nearest ? ToSeconds(*nearest - trace.origin) : 0;
  Judged judged =
      Judge(Until(trace, std::min(end_s, drift_onset_s.value_or(end_s))), std::nullopt, options);
  // An early drift leaves little before it: then the rest of the approach must help.
  if (judged.following == Following::kCannotTell && drift_onset_s) {
    const Judged with_rest = Judge(Until(trace, end_s), drift_onset_s, options);
    if (with_rest.response) judged = with_rest;
  }
  check.following = judged.following;
  check.response = judged.response;
  check.sentence = Describe(check.following, check.response);
  return check;
}

}  // namespace nearpoint
