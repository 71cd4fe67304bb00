#include "vision/tracking/pose_prior.h"

#include <algorithm>
#include <cmath>

namespace nearpoint {
namespace {

constexpr double kTurnsRadPerS = 0.2;  // how fast a head turns while it reads a target

}  // namespace

double VergenceAt(const Scene& scene, double distance_mm) {
  return 2 * std::atan(scene.model.mean(kPd) / 2 / (distance_mm + kCentreOfRotationDepthMm));
}

PosePrior AnyPose(const Scene& scene) {
  PosePrior prior;
  if (scene.nearest_gaze) {
    prior.eye_out_sd_rad =
        std::hypot(prior.eye_out_sd_rad, VergenceAt(scene, scene.nearest_gaze->mm()) / 2);
  }
  return prior;
}

PosePrior PriorAround(const Scene& scene, const HeadPose& expected, Time since, Time one_eye) {
  PosePrior prior = AnyPose(scene);
  prior.mean = expected;
  const double t = ToSeconds(since);
  const double keep = std::exp(-t / 5);
  prior.mean.yaw_rad *= keep;
  prior.mean.pitch_rad *= keep;
  // With one eye alone the turn is hardly seen.
  prior.turn_sd_rad = std::min(0.15, 0.012 + kTurnsRadPerS * t + 0.15 * ToSeconds(one_eye));
  prior.roll_sd_rad = 0.02 + 0.5 * t;
  // Constant speed, with accelerations of 0.4 m/s2 between two frames; wide enough not to smooth
  // what is measured.
  prior.position_sd_mm = std::max(1.0, 0.01 * expected.mid_in_camera_mm.z()) + 0.5 * 400 * t * t;
  return prior;
}

PosePrior PriorFromEyes(const Scene& scene, const Eigen::Vector2d& image_left,
                        const Eigen::Vector2d& image_right, double depth_mm,
                        const std::optional<SeenBefore>& before) {
  PosePrior prior = AnyPose(scene);
  const Eigen::Vector2d line = image_right - image_left, mid = (image_right + image_left) / 2;
  prior.mean.mid_in_camera_mm = {
      (mid.x() - scene.profile.camera.cx) / scene.profile.camera.fx * depth_mm,
      (mid.y() - scene.profile.camera.cy) / scene.profile.camera.fy * depth_mm, depth_mm};
  prior.mean.roll_rad = -std::atan2(line.y(), line.x());
  // A head seen a moment ago is still turned about as it was.
  const double since = before ? ToSeconds(before->since) : 1.0;
  prior.turn_sd_rad = std::min(0.12, 0.04 + 0.15 * since);
  if (before && since < 0.5) {
    prior.mean.yaw_rad = before->pose.yaw_rad;
    prior.mean.pitch_rad = before->pose.pitch_rad;
  }
  return prior;
}

}  // namespace nearpoint
