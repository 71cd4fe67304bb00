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

std::optional<cv::Mat> BridgePicture(const Scene& scene, Channels& picture, const HeadPose& pose) {
  const auto left =
      PredictIris(pose, scene.model.mean, scene.profile.camera, scene.profile.target_mm, true);
  const auto right =
      PredictIris(pose, scene.model.mean, scene.profile.camera, scene.profile.target_mm, false);
  if (!left || !right) return std::nullopt;
  const double a = (left->semi_major_px + right->semi_major_px) / 2;
  const int x0 =
      static_cast<int>(std::lround(std::min(left->centre_px.x(), right->centre_px.x()) + 2.2 * a));
  const int x1 =
      static_cast<int>(std::lround(std::max(left->centre_px.x(), right->centre_px.x()) - 2.2 * a));
  const double y = (left->centre_px.y() + right->centre_px.y()) / 2;
  const cv::Rect whole(x0, static_cast<int>(std::lround(y - 2 * a)), x1 - x0,
                       static_cast<int>(std::lround(4 * a)));
  const cv::Rect inside =
      whole & cv::Rect(0, 0, scene.profile.camera.width, scene.profile.camera.height);
  if (inside.area() < 0.7 * whole.area() || inside.area() < 16) return std::nullopt;
  cv::Mat small;
  cv::resize(picture.Grey()(inside), small, cv::Size(16, 16), 0, 0, cv::INTER_AREA);
  small.convertTo(small, CV_32F);
  return small;
}

bool BridgeStays(const Scene& scene, Channels& picture, const HeadPose& pose,
                 const cv::Mat& bridge) {
  if (bridge.empty()) return false;
  const auto now = BridgePicture(scene, picture, pose);
  if (!now) return false;
  cv::Mat match;
  cv::matchTemplate(*now, bridge, match, cv::TM_CCOEFF_NORMED);
  const double level = cv::mean(*now)[0] / std::max(1.0, cv::mean(bridge)[0]);
  return match.at<float>(0, 0) > 0.5F && level > 0.6 && level < 1.6;
}

}  // namespace nearpoint
