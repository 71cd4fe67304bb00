#include "vision/tracking/report.h"

#include <algorithm>
#include <cmath>

#include "vision/distance/eye_turn.h"
#include "vision/distance/lens_prior.h"

namespace nearpoint {
namespace {

constexpr double kAloneWidens = 1.7;  // the deviation of one eye alone: tuned on simulated patients

}  // namespace

void Report(const Scene& scene, const HeadFit& fit, const SeenEyes& seen, bool face,
            double regime_difference_mm, DistanceSample* sample) {
  sample->mode = face ? TrackMode::kFace : TrackMode::kEyes;
  sample->eye_mid_mm = fit.pose.mid_in_camera_mm;
  const TargetDistance distance = DistanceToTarget(fit, scene.model, scene.profile);
  // Rulers that disagree by more than their deviations allow make the answer less certain, never
  // more.
  const double spread = std::max(1.0, fit.chi2 / std::max(1, fit.measurements - 6));
  // The other eye's size is the only check on a limbus that was mistaken in part.
  const double alone = !face && !seen.Both() ? kAloneWidens : 1;
  const double at_hand_over = face ? 0 : regime_difference_mm;
  sample->distance = UncertainLength{
      distance.value, Length::Millimeters(std::hypot(
                          alone * distance.measured_sd.mm() * std::sqrt(spread), at_hand_over))};
  sample->distance_shared_sd = distance.shared_sd;
  sample->head = HeadAngles{Angle::Radians(fit.pose.yaw_rad), Angle::Radians(fit.pose.pitch_rad),
                            Angle::Radians(fit.pose.roll_rad)};
  const EyeTurns turns = EyeTurnsOf(fit, scene.model, scene.profile.target_mm);
  for (const bool left : {true, false}) {
    const auto& limbus = left ? seen.left : seen.right;
    if (!limbus) continue;
    const EyeTurn& turn = left ? turns.left : turns.right;
    EyeSample out;
    out.iris_px = limbus->ellipse.centre_px;
    out.iris_major_px = 2 * limbus->ellipse.semi_major_px;
    out.rotation = EyeRotation{turn.inward, turn.up, turn.inward_sd.measured};
    (left ? sample->left_eye : sample->right_eye) = out;
  }
  sample->demand = turns.demand;
  if (IsWorn(scene.profile.face.glasses)) {
    const auto lens = [&](int index) {
      const double variance = fit.covariance(kPoseCount + index, kPoseCount + index);
      return LensEstimate{fit.personal(index), std::sqrt(std::max(0.0, variance))};
    };
    sample->left_lens = lens(kLeftLens);
    sample->right_lens = lens(kRightLens);
    sample->lens_shift = turns.lens_shift;
  }
  if (sample->left_eye && sample->right_eye) {
    sample->vergence = turns.vergence;
    sample->vergence_sd = turns.vergence_sd.measured;
    sample->vergence_shared_sd = turns.vergence_sd.shared;
  }
}

}  // namespace nearpoint
