#include "vision/pipeline/undistorted_ray.h"

#include "vision/distance/head_fit.h"

namespace nearpoint {

Eigen::Vector2d UndistortedRay(const CameraIntrinsics& camera, const Eigen::Vector2d& px) {
  const auto normalised = [&](const Eigen::Vector2d& p) {
    return Eigen::Vector2d((p.x() - camera.cx) / camera.fx, (p.y() - camera.cy) / camera.fy);
  };
  const Eigen::Vector2d wanted = normalised(px);
  Eigen::Vector2d ray = wanted;
  for (int i = 0; i < 20; ++i) {
    const Eigen::Vector2d step = wanted - normalised(ProjectPoint(camera, {ray.x(), ray.y(), 1}));
    ray += step;
    if (step.squaredNorm() < 1e-18) break;
  }
  return ray;
}

}  // namespace nearpoint
