// Whether the eyes reached less and less within one session.
#pragma once

#include <optional>
#include <span>

#include "app/exercise/attempt.h"
#include "app/measure/estimate.h"

namespace nearpoint {

// The rule. Of the attempts at the pair that was shown most, those in which the eyes were seen and
// turned in (counted, or not far enough, too near, not held, one eye, not reported, a mark missing)
// give their reach. A straight line through them, attempt by attempt, with the scatter between
// attempts estimated along (EstimateNearPoint), has a slope with a 95 % band. Tired: at least five
// such attempts, the band of the slope lies above zero, and the line recedes by a tenth of the mean
// reach or more. Failing: the last three attempts of the session did not count, for reasons of the
// eyes, after at least one that did. How often it calls tired eyes fresh and fresh eyes tired:
// tests/bench/exercise_counts.
struct Tiredness {
  int attempts = 0;              // that gave a reach
  std::optional<Band> reach_mm;  // mean, from the corneal plane, by the camera
  std::optional<Band> trend_mm;  // per attempt; positive: the reach recedes
  bool tired = false;
  bool failing = false;
};
[[nodiscard]] Tiredness FindTiredness(std::span<const Attempt> attempts);

}  // namespace nearpoint
