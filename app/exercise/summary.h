// One exercise session in numbers.
#pragma once

#include <map>
#include <optional>
#include <span>

#include "app/exercise/attempt.h"
#include "app/exercise/graded_levels.h"
#include "app/exercise/tiredness.h"

namespace nearpoint {

struct ExerciseSummary {
  int asked = 0;    // repetitions by the plan
  int counted = 0;  // repetitions
  int attempts = 0;
  double held_s = 0;               // of the repetitions that count, together
  std::optional<double> fusing_s;  // median time to fuse of those
  std::map<NotCounted, int> reasons;
  // The nearest pair that was held, from the corneal plane: by the geometry of the pair, since what
  // is fused is where the pair says. Its deviation is that of pupil distance and screen distance.
  std::optional<UncertainLength> reach;
  Tiredness tiredness;  // with the reach as the camera saw it, for comparison
};

// view: pupils and their deviation; of `screen` only the deviation matters, since every attempt
// knows its own distance.
[[nodiscard]] ExerciseSummary Summarise(std::span<const Attempt> attempts, int asked,
                                        const PairView& view);

}  // namespace nearpoint
