// What a rule will bring, before it is used: of so many children, how many are sent on, how many of
// those for nothing, and how many are missed. Computed by carrying the rule out on simulated
// measurements, trial by trial, with the estimate and the stopping of the real one.
//
// What it rests on. The share of children beyond the limit and the shape of their near points are
// published; how far a measurement is off was measured on rendered faces and not on children; the
// scatter from trial to trial is the estimate's own prior. Children who cannot be measured at all
// are not in it.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "app/event/rule.h"
#include "app/measure/estimate.h"
#include "vision/core/result.h"

namespace nearpoint {

// How large the errors of a set-up are.
struct Equipment {
  std::string_view id;
  std::string_view name;
  SharedCalibration shared;  // of each child, the same in all its trials
  double trial_sd_mm = 1.2;  // of one trial's measurement, as rendered faces gave it
  double shortest_mm = 45;   // single down to here ends a trial
  std::string_view source;
};
// "webcam" (nothing calibrated), "camera" (the camera calibrated, the scale of the face the
// population's) and "card" (camera and face calibrated).
[[nodiscard]] const std::vector<Equipment>& AllEquipment();
[[nodiscard]] Result<const Equipment*> FindEquipment(std::string_view id);

// The near points of a school: a gamma distribution of distances from the spectacle plane (the
// published values are right-skewed), with the published ratio of spread to mean, scaled so that
// the given share lies beyond the limit.
struct SchoolOptions {
  // Hayes et al., Optom Vis Sci 1998;75:506-512: at least 85 % of each grade break at 6 cm or
  // nearer, so at most this share lies beyond.
  double beyond_share = 0.15;
  // The same: 3.3 +- 2.6, 4.1 +- 2.4 and 4.3 +- 3.4 cm; mean of the three ratios.
  double spread_to_mean = (2.6 / 3.3 + 2.4 / 4.1 + 3.4 / 4.3) / 3;
  int children = 200;    // that the answer is stated for
  int simulated = 2000;  // that it is computed with
  std::uint64_t seed = 1;
};

// Expected numbers of children out of SchoolOptions::children.
struct Yield {
  double beyond = 0;          // truly beyond the limit
  double referred = 0;        // sent to a professional
  double referred_wrong = 0;  // of them, truly within
  double missed = 0;          // truly beyond and told "within"
  double again = 0;           // measure again
  double again_beyond = 0;    // of them, truly beyond
  double trials = 0;          // made, a child
  double error = 0;           // one standard deviation of these numbers from simulating, at most
};

// Errors: those of CheckRule, kBadValue (a share not within 0.01 to 0.5, fewer than 100 simulated).
[[nodiscard]] Result<Yield> ExpectedYield(const EventRule& rule, const Equipment& equipment,
                                          const SchoolOptions& options = {});

}  // namespace nearpoint
