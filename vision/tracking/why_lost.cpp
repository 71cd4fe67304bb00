#include "vision/tracking/why_lost.h"

#include <algorithm>
#include <cmath>

#include "vision/pipeline/grain.h"
#include "vision/tracking/in_view.h"
#include "vision/tracking/two_eyes.h"

namespace nearpoint {
namespace {

// Pixels of radius below which arcs of an iris cannot be told from its corners.
constexpr double kSmallestIris = 4;

cv::Rect Around(const EyeReading& eye, const cv::Mat& picture) {
  const double reach = 3 * eye.iris_radius_px;
  const auto px = [](double v) { return static_cast<int>(std::lround(v)); };
  return cv::Rect(px(eye.iris_px.x() - reach), px(eye.iris_px.y() - reach), px(2 * reach),
                  px(2 * reach)) &
         cv::Rect(0, 0, picture.cols, picture.rows);
}

}  // namespace

LostReason WhyLost(const Scene& scene, Channels& picture, const LookedAt& looked) {
  if (looked.expected) {
    const HeadPose& pose = *looked.expected;
    if (std::max(std::abs(pose.yaw_rad), std::abs(pose.pitch_rad)) > 0.75 * kMaxTurnRad)
      return LostReason::kHeadTurned;
    if (!WholeInView(scene, pose, true) || !WholeInView(scene, pose, false))
      return LostReason::kTooClose;
  }
  LidState widest = LidState::kNoEye;
  const EyeReading* open = nullptr;
  for (const auto* reading : {&looked.eyes.left_reading, &looked.eyes.right_reading}) {
    if (!*reading) continue;
    const LidState lids = LidsOf(**reading);
    widest = std::max(widest, lids);
    if (lids == LidState::kOpen) open = &**reading;
  }
  switch (widest) {
    case LidState::kNoEye:
      return looked.expected || looked.face ? LostReason::kEyesHidden : LostReason::kNoFace;
    case LidState::kShut:
      return LostReason::kEyesClosed;
    case LidState::kHalf:
      return LostReason::kEyesHalfClosed;
    case LidState::kOpen:
      break;
  }
  if (open->iris_radius_px < kSmallestIris) return LostReason::kTooFar;
  if (IsTooDark(picture.Grey(), Around(*open, picture.Grey()))) return LostReason::kTooDark;
  return LostReason::kEyesHidden;
}

}  // namespace nearpoint
