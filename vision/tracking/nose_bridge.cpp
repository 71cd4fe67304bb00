#include "vision/tracking/nose_bridge.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <utility>

namespace nearpoint {
namespace {

constexpr double kAnchorSdMm = 0.25;

// The patch is centred about this far in front of the corneal plane (mean of the head model's
// bridge).
Eigen::Vector3d AnchorInHead(const Scene& scene) {
  return {0, 0, -scene.model.mean(kBridge0Depth)};
}

Eigen::Vector2d AnchorPixel(const Scene& scene, const HeadPose& pose) {
  return ProjectPoint(scene.profile.camera,
                      CameraFromHead(pose) * AnchorInHead(scene) + pose.mid_in_camera_mm);
}

}  // namespace

void SeeAnchor(const Scene& scene, Channels& picture, const SkinAnchor& anchor,
               const HeadPose& expected, SeenEyes* seen) {
  const double enlargement = anchor.pose.mid_in_camera_mm.z() / expected.mid_in_camera_mm.z();
  const auto found = FindSkinPatch(picture.Grey(), anchor.patch, AnchorPixel(scene, expected),
                                   enlargement, -(expected.roll_rad - anchor.pose.roll_rad));
  if (!found) return;
  // Perspective bends the patch as the head comes nearer or turns, and each key frame inherits
  // the error of its pose: a few tenths of a millimetre on the skin.
  const double bend = (kAnchorSdMm + 1.0 * std::abs(std::log(enlargement))) *
                      scene.profile.camera.fx / expected.mid_in_camera_mm.z();
  // It is asked for the sideways place only: up and down, where a head off the lens axis moves as
  // it comes nearer, the same errors would pull at the distance.
  constexpr double kUpDown = 5;
  seen->observation.anchor = AnchorMeasurement{
      AnchorInHead(scene), found->centre_px,
      (found->sd_px.array().square() + bend * bend).sqrt() * Eigen::Array2d(1, kUpDown)};
}

void RenewAnchor(const Scene& scene, Channels& picture, const HeadFit& fit, const SeenEyes& seen,
                 std::optional<SkinAnchor>* anchor) {
  if (!seen.Both()) return;
  if (*anchor) {
    const double enlargement = (*anchor)->pose.mid_in_camera_mm.z() / fit.pose.mid_in_camera_mm.z();
    if (std::abs(std::log(enlargement)) < 0.16 && seen.observation.anchor) return;
    if (std::abs(std::log(enlargement)) < 0.08) return;
  }
  const double apart =
      std::abs(seen.left->ellipse.centre_px.x() - seen.right->ellipse.centre_px.x());
  const double width =
      apart - 2.2 * (seen.left->ellipse.semi_major_px + seen.right->ellipse.semi_major_px);
  auto patch = CutSkinPatch(picture.Grey(), AnchorPixel(scene, fit.pose), width);
  anchor->reset();
  if (patch) *anchor = SkinAnchor{std::move(*patch), fit.pose};
}

}  // namespace nearpoint
