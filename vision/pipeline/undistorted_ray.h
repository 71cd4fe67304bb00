// From a pixel back to where it looks.
#pragma once

#include <Eigen/Core>

#include "calibration/profile.h"

namespace nearpoint {

// x/z and y/z of what a pixel of the captured (distorted) picture shows, by iteration; exact to a
// hundredth of a pixel for the lenses of webcams.
[[nodiscard]] Eigen::Vector2d UndistortedRay(const CameraIntrinsics& camera,
                                             const Eigen::Vector2d& px);

}  // namespace nearpoint
