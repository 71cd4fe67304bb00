#include "vision/tracking/in_view.h"

namespace nearpoint {
namespace {

// The middle of an iris and `share` of its semi-major axis about it.
bool ShareInView(const Scene& scene, const HeadPose& pose, bool left, double share) {
  const CameraIntrinsics& camera = scene.profile.camera;
  const auto iris = PredictIris(pose, scene.model.mean, camera, scene.profile.target_mm, left);
  if (!iris) return false;
  const double margin = share * iris->semi_major_px;
  return iris->centre_px.x() > margin && iris->centre_px.x() < camera.width - margin &&
         iris->centre_px.y() > margin && iris->centre_px.y() < camera.height - margin;
}

}  // namespace

bool InView(const Scene& scene, const HeadPose& pose, bool left) {
  return ShareInView(scene, pose, left, 0.3);
}

bool WholeInView(const Scene& scene, const HeadPose& pose, bool left) {
  return ShareInView(scene, pose, left, 1.0);
}

bool BothInView(const Scene& scene, const HeadPose& pose) {
  return InView(scene, pose, true) && InView(scene, pose, false);
}

}  // namespace nearpoint
