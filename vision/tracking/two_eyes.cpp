#include "vision/tracking/two_eyes.h"

#include <algorithm>
#include <cmath>

#include "vision/tracking/pose_prior.h"

namespace nearpoint {
namespace {

// Both eyes together: one may drift out by 12 degrees and more, but two irises that seem to cross
// before the target or to turn farther out are none.
constexpr double kLeastApartRad = -0.14, kMostApartRad = 0.28;
constexpr double kOddlyApartRad = 0.17;
constexpr double kBadChi2 = 8;  // of the three residuals of one iris

// Where eyes may look before the target, they may cross as far as there.
double LeastApart(const Scene& scene, const HeadFit& fit) {
  if (!scene.nearest_gaze) return kLeastApartRad;
  const double target = (fit.pose.mid_in_camera_mm - scene.profile.target_mm).norm();
  return kLeastApartRad -
         std::max(0.0, VergenceAt(scene, scene.nearest_gaze->mm()) - VergenceAt(scene, target));
}

}  // namespace

double Apart(const HeadPose& pose) { return pose.left_out_rad + pose.right_out_rad; }

bool OnOneTarget(const Scene& scene, const HeadFit& fit) {
  return Apart(fit.pose) > LeastApart(scene, fit) && Apart(fit.pose) < kMostApartRad;
}

bool FoundOnOneTarget(const Scene& scene, const HeadFit& fit) {
  return OnOneTarget(scene, fit) && Apart(fit.pose) < kOddlyApartRad + 0.03;
}

bool OddlyApart(const HeadFit& fit) { return Apart(fit.pose) > kOddlyApartRad; }

bool LooksLikeAFace(const HeadFit& fit, const SeenEyes& seen) {
  constexpr double kTwisted = 0.35;
  const HeadPose& pose = fit.pose;
  if (fit.left_iris_chi2 + fit.right_iris_chi2 > 2 * kBadChi2 ||
      std::abs(pose.yaw_rad) > kTwisted || std::abs(pose.pitch_rad) > kTwisted ||
      std::abs(pose.left_out_rad) > kTwisted || std::abs(pose.right_out_rad) > kTwisted) {
    return false;
  }
  return seen.left_reading && seen.right_reading && seen.left_reading->present > kSurelyAnEye &&
         seen.right_reading->present > kSurelyAnEye;
}

bool Plausible(const HeadFit& fit) {
  return fit.pose.mid_in_camera_mm.z() > 15 && fit.pose.mid_in_camera_mm.z() < 1500 &&
         std::abs(fit.pose.yaw_rad) < kMaxTurnRad && std::abs(fit.pose.pitch_rad) < kMaxTurnRad;
}

}  // namespace nearpoint
