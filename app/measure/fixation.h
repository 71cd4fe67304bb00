// Whether the patient looked at the target with both eyes: while it comes nearer the eyes must turn
// inward in step with it.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "app/measure/vergence_model.h"
#include "app/measure/vergence_trace.h"
#include "vision/core/distance_sample.h"
#include "vision/core/units.h"

namespace nearpoint {

enum class Following {
  kFollows,        // the vergence follows the demand
  kDoesNotFollow,  // it does not
  kLeftCovered,    // the left eye was missing for most of the approach while the right was seen
  kRightCovered,
  kCannotTell,  // too little was seen, or too small a range of demand
};

struct FixationCheck {
  Following following = Following::kCannotTell;
  // Vergence against demand over the approach, up to the drift if there was one. nullopt when it
  // could not be fitted.
  std::optional<PersonalResponse> response;
  std::string sentence;  // for the clinician
};

struct FixationOptions {
  // One eye alone in this share of the approach frames in which an eye was seen.
  double covered_share = 0.6;
  int min_frames = 20;
  Angle min_demand_range = Angle::Degrees(3);
  // Eyes that follow have gain 1 within the error of the tracker's eyeball; eyes that look at one
  // far point have gain 0, and an eye that follows alone makes 0.5.
  double follows_above = 0.4;        // the gain's lower bound must exceed it
  double not_following_below = 0.7;  // the gain's upper bound must stay below it
  // The same after a drift, when the approach before it was too short to judge by: the drifted eye
  // need not follow, so the gain may be 0.5 there.
  double not_following_below_after_drift = 0.4;
  double follows_deviations = 2;
  double not_following_deviations = 3;  // a trial is not set aside lightly
};

// samples: the trial's. trace: cleaned from them. drift_onset_s: of the trace, when a drift was
// found.
[[nodiscard]] FixationCheck CheckFixation(std::span<const DistanceSample> samples,
                                          const VergenceTrace& trace,
                                          std::optional<double> drift_onset_s,
                                          const FixationOptions& options = {});

}  // namespace nearpoint
