// Projection through a pinhole with the distortion of PROFILE.json.
#pragma once

#include <Eigen/Core>
#include <cmath>

#include "calibration/profile.h"

namespace nearpoint {

// Distorted normalised coordinates from undistorted ones (x/z, y/z): radial k1, k2, k3, tangential
// p1, p2 (Brown, Photogrammetric Engineering 1966;32:444-462; the form and order are OpenCV's).
[[nodiscard]] inline Eigen::Vector2d DistortNormalised(const std::array<double, 5>& distortion,
                                                       const Eigen::Vector2d& n) {
  const auto& [k1, k2, p1, p2, k3] = distortion;
  const double x = n.x(), y = n.y(), r2 = n.squaredNorm();
  const double radial = 1 + r2 * (k1 + r2 * (k2 + r2 * k3));
  return {x * radial + 2 * p1 * x * y + p2 * (r2 + 2 * x * x),
          y * radial + p1 * (r2 + 2 * y * y) + 2 * p2 * x * y};
}

// Pixel of a point in the camera frame; z must be positive.
[[nodiscard]] inline Eigen::Vector2d ProjectThroughLens(const CameraIntrinsics& camera,
                                                        const Eigen::Vector3d& in_camera_mm) {
  const Eigen::Vector2d d =
      DistortNormalised(camera.distortion, in_camera_mm.head<2>() / in_camera_mm.z());
  return {camera.fx * d.x() + camera.cx, camera.fy * d.y() + camera.cy};
}

// The undistorted direction (x/z, y/z) of a pixel. Fixed-point steps: exact to 1e-9 for the
// distortion of webcams (below 30 % at the corner).
[[nodiscard]] inline Eigen::Vector2d DirectionOfPixel(const CameraIntrinsics& camera,
                                                      const Eigen::Vector2d& px) {
  const Eigen::Vector2d d((px.x() - camera.cx) / camera.fx, (px.y() - camera.cy) / camera.fy);
  Eigen::Vector2d n = d;
  for (int i = 0; i < 40; ++i) {
    const Eigen::Vector2d step = d - DistortNormalised(camera.distortion, n);
    n += step;
    if (step.squaredNorm() < 1e-24) break;
  }
  return n;
}

}  // namespace nearpoint
