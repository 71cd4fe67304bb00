#include "app/measure/bound_prior.h"

#include <algorithm>

#include "app/measure/normal.h"

namespace nearpoint {

double InformationOfMean(double z) {
  // Beyond six deviations the difference of two small terms is rounding; it is below 1e-8 there.
  if (z > 6) return 0;
  const double density = NormalPdf(z);
  const double upper = NormalCdf(-z);
  const double mills = InverseMills(z);
  const double mean_mean = upper + density * (z + mills);
  const double mean_spread = density * (1 + z * z + z * mills);
  const double spread_spread = 2 * upper + z * mean_spread;
  return std::max(0.0, mean_mean - mean_spread * mean_spread / spread_spread);
}

}  // namespace nearpoint
