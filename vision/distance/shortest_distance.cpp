#include "vision/distance/shortest_distance.h"

#include "vision/distance/head_fit.h"

namespace nearpoint {
namespace {

// An iris needs its centre and this much of its semi-major axis on the temporal side.
constexpr double kTemporalShare = 0.3;

bool Measurable(const Profile& profile, const PersonalVector& personal, double depth_mm) {
  HeadPose pose;
  pose.mid_in_camera_mm = {0, 0, depth_mm};
  for (const bool left : {true, false}) {
    const auto iris = PredictIris(pose, personal, profile.camera, profile.target_mm, left);
    if (!iris) return false;
    const double margin = kTemporalShare * iris->semi_major_px;
    const Eigen::Vector2d& c = iris->centre_px;
    if (c.x() < margin || c.x() > profile.camera.width - 1 - margin) return false;
    if (c.y() < margin || c.y() > profile.camera.height - 1 - margin) return false;
  }
  return true;
}

}  // namespace

Length ShortestMeasurableDistance(const Profile& profile) {
  const PersonalVector personal = MakeHeadModel(profile.face).mean;
  constexpr double kStepMm = 0.25, kFarthestMm = 400;
  double depth = kFarthestMm;
  while (depth > 20 && Measurable(profile, personal, depth - kStepMm)) depth -= kStepMm;
  return Length::Millimeters((Eigen::Vector3d(0, 0, depth) - profile.target_mm).norm());
}

}  // namespace nearpoint
