// The person's response lag from a short task.
#pragma once

#include <optional>
#include <span>

#include "vision/core/units.h"

namespace nearpoint {

struct LagEstimate {
  Time mean;
  Time sd;  // of one press against the next, with what the mean itself is unsure by
};

// From the times between the picture and the press, milliseconds. Below 100 ms is a guess and above
// 1.5 s is not looking (common practice, no source); such times are left out. The middle is the
// median, the spread 1.4826 times the median deviation from it. nullopt with fewer than five times
// left, or a spread of more than half the middle.
[[nodiscard]] std::optional<LagEstimate> LagFromTimes(std::span<const double> times_ms);

}  // namespace nearpoint
