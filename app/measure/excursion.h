// The evidence for one excursion of the vergence: outward by x at one moment and back at another.
#pragma once

#include "vision/core/units.h"

namespace nearpoint {

struct ExcursionPrior {
  Angle usual_size;  // of x: normal, mean and deviation
  Angle size_spread;
  Angle return_differs;  // of the return less x: normal about 0
};

struct Excursion {
  double log_factor = 0;                 // Bayes factor against no excursion, natural logarithm
  double size_deg = 0, size_sd_deg = 0;  // x; normal posterior
  double return_extra_deg = 0, return_sd_deg = 0;  // return less x, given x
};

// Whitened data and inner products of the two rising ramps, seen beside the terms that are fitted
// along (PriorRegression): data1, inner11 of the one at the onset, data2, inner22 of the one at the
// return. The excursion is -x ramp1 + (x + d) ramp2; x and d are integrated out.
struct RampProducts {
  double data1 = 0, data2 = 0;
  double inner11 = 0, inner12 = 0, inner22 = 0;
};
[[nodiscard]] Excursion Returned(const RampProducts& ramps, const ExcursionPrior& prior);

// Without a return: -x ramp1.
[[nodiscard]] Excursion Unreturned(double data1, double inner11, const ExcursionPrior& prior);

// The same ramps in the other direction: an excursion inward, whose size is positive again.
[[nodiscard]] constexpr RampProducts Mirrored(RampProducts ramps) {
  ramps.data1 = -ramps.data1;
  ramps.data2 = -ramps.data2;
  return ramps;
}

}  // namespace nearpoint
