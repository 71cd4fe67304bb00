// The tone curve of the simulated camera on square-root coded light: straight, then a soft shoulder
// below white.
#pragma once

#include <cmath>
#include <opencv2/core.hpp>

namespace nearpoint::simulate {

[[nodiscard]] inline float Shoulder(float value) {
  constexpr float kKnee = 0.78F;
  return value < kKnee ? value
                       : kKnee + (1 - kKnee) * (1 - std::exp(-(value - kKnee) / (1 - kKnee)));
}
[[nodiscard]] inline cv::Vec3f Shoulder(const cv::Vec3f& colour) {
  return {Shoulder(colour[0]), Shoulder(colour[1]), Shoulder(colour[2])};
}

}  // namespace nearpoint::simulate
