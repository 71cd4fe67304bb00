// The course of a drift over time, from 0 before its onset to 1 after its end.
#pragma once

#include <Eigen/Core>
#include <span>

namespace nearpoint {

enum class RampForm {
  kStraight,
  kSmooth,  // raised cosine
};

struct DriftShape {
  double onset_s = 0;
  double ramp_s = 0;
  RampForm form = RampForm::kStraight;
};

[[nodiscard]] double ShapeAt(const DriftShape& shape, double time_s);

// At each of the rising times.
[[nodiscard]] Eigen::VectorXd SampleShape(const DriftShape& shape, std::span<const double> time_s);

// The first frame that the shape touches; time_s.size() if none.
[[nodiscard]] Eigen::Index FirstTouched(const DriftShape& shape, std::span<const double> time_s);

}  // namespace nearpoint
