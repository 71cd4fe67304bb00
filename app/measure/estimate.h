// The near point with its band from several trials.
//
// Model, for the usable trials i = 1..n with trial number k_i and centre k0 = mean(k_i):
//   break_i = mu + beta (k_i - k0) + between_i + measured_i,
//   between_i ~ N(0, tau^2), measured_i ~ N(0, Trial.break_point.value.sd^2),
// a trial censored below says break_i <= limit, one censored above break_i >= limit. The band of mu
// is the posterior of this model (posterior.h: numeric integration, no random numbers), widened by
// the shared calibration uncertainty, which is the same in every trial and does not shrink with
// their number. tests/bench/estimate_coverage.cpp prints how often the band holds the truth.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/measure/planes.h"
#include "app/measure/trial.h"
#include "vision/core/units.h"

namespace nearpoint {

// A value with its band. For a distance `low` is at least 0 in the corneal plane. When every usable
// trial was single down to the shortest distance there is no value and `high` alone is known (low
// is the lowest possible); when every one was double from the start there is no value and no
// `high`.
struct Band {
  std::optional<double> value;  // mm, or mm per trial for a trend
  double low = 0;
  std::optional<double> high;
  double level = 0.95;
};

enum class Answer {
  kBeyond,      // the band lies beyond the cut-off
  kWithin,      // the band lies within the cut-off
  kCannotTell,  // the band straddles it, or there is no band
};
[[nodiscard]] std::string_view ToText(Answer answer);

// One standard deviation each of what is wrong by the same amount in every trial of a session.
struct SharedCalibration {
  double relative_sd =
      0;             // of the scale: focal length, personal lengths; as a fraction of the distance
  Length offset_sd;  // of the zero: where the target is, where the corneal plane is
  Time lag_sd{};  // of the person's mean lag; times the mean approach speed it is a shared length
};

// From the numbers of a profile: the focal length's relative deviation and the target's, with the
// corneal plane's.
[[nodiscard]] SharedCalibration SharedFromProfile(double focal_rel_sd, Length target_sd,
                                                  double personal_scale_rel_sd = 0);

struct EstimateOptions {
  // Counted from `plane`. The default is the adult limit of 5 cm (Scheiman et al., Optom Vis Sci
  // 2003;80(3)), taken as counted from the spectacle plane, in the corneal plane.
  Length cut_off = Length::Millimeters(50) + CornealBehindSpectacle();
  double level = 0.95;  // in (0.5, 1)
  ReferencePlane plane =
      ReferencePlane::kCorneal;  // values are given from this plane; trials are from the corneal
};

struct Estimate {
  std::optional<Band> break_mm;  // the mean of the usable trials, without any at all absent
  std::optional<Band> recovery_mm;
  // How much farther the recovery lies than the break. Both come from the same trials, so this is
  // known better than their two bands suggest; it does not depend on the plane.
  std::optional<Band> recovery_minus_break_mm;
  std::optional<Band> trend_mm_per_trial;  // of the break; positive: the near point recedes
  bool trend_present = false;              // the band of the trend leaves out zero
  std::optional<Band> first_break_mm;  // at the first and the last usable trial; only with a trend
  std::optional<Band> last_break_mm;
  std::optional<double> between_trial_sd_mm;
  std::optional<double> probability_beyond;  // that the near point is beyond the cut-off, 0..1
  Answer answer = Answer::kCannotTell;
  Length cut_off;
  std::string reference_plane;  // the plane all values and the cut-off are stated in
  // What the lag correction did to the break, mean over the trials that have it; the value without
  // it is this much nearer.
  std::optional<double> lag_correction_mm;
  int trials_used = 0;  // usable, censored ones included
  int trials_censored_below = 0;
  int trials_censored_above = 0;
  double shared_sd_mm = 0;  // the part of the break's deviation that more trials do not lower
  std::vector<std::string> cautions;  // plain sentences
};

// Never fails: trials that are set aside do not count, and without a usable one there is no band
// but a caution that says so. Break and recovery are estimated together: the recovery is not nearer
// than its break, so no quantile of the one lies before that of the other, unless the trials
// contradict that beyond their error, which is then said. Values of other trials must be finite; a
// negative or absent deviation counts as zero.
[[nodiscard]] Estimate EstimateNearPoint(std::span<const Trial> trials,
                                         const SharedCalibration& shared,
                                         const EstimateOptions& options = {});

}  // namespace nearpoint
