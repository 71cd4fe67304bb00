#include "app/measure/drift_shape.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace nearpoint {

double ShapeAt(const DriftShape& shape, double time_s) {
  const double part = std::clamp((time_s - shape.onset_s) / shape.ramp_s, 0.0, 1.0);
  if (shape.form == RampForm::kStraight) return part;
  return 0.5 * (1 - std::cos(std::numbers::pi * part));
}

Eigen::Index FirstTouched(const DriftShape& shape, std::span<const double> time_s) {
  return std::ranges::upper_bound(time_s, shape.onset_s) - time_s.begin();
}

Eigen::VectorXd SampleShape(const DriftShape& shape, std::span<const double> time_s) {
  Eigen::VectorXd out = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(time_s.size()));
  for (Eigen::Index i = FirstTouched(shape, time_s); i < out.size(); ++i) {
    out[i] = ShapeAt(shape, time_s[static_cast<std::size_t>(i)]);
  }
  return out;
}

}  // namespace nearpoint
