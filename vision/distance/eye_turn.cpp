#include "vision/distance/eye_turn.h"

#include <Eigen/Core>
#include <cmath>

namespace nearpoint {
namespace {

using Gradient = Eigen::Matrix<double, kStateCount, 1>;

struct Angles {
  double left_inward = 0, right_inward = 0, left_up = 0, right_up = 0;
  double left_demand = 0, right_demand = 0;
};

Angles AnglesOf(const HeadPose& pose, const PersonalVector& personal,
                const Eigen::Vector3d& target_mm) {
  const Eigen::Matrix3d head_from_camera = CameraFromHead(pose).transpose();
  Angles out;
  for (const bool left : {true, false}) {
    const EyeInCamera eye = EyeOf(pose, personal, target_mm, left);
    const auto inward = [&](const Eigen::Vector3d& direction) {
      const Eigen::Vector3d d = head_from_camera * direction;
      return (left ? -1 : 1) * std::atan2(d.x(), d.z());
    };
    const Eigen::Vector3d g = head_from_camera * eye.gaze;
    (left ? out.left_inward : out.right_inward) = inward(eye.gaze);
    (left ? out.left_up : out.right_up) = std::atan2(g.y(), std::hypot(g.x(), g.z()));
    const Eigen::Vector3d aim = AimInHead(pose, personal, target_mm, left);
    (left ? out.left_demand : out.right_demand) = (left ? -1 : 1) * std::atan2(aim.x(), aim.z());
  }
  return out;
}

// In the order of the state: pose as in HeadPose, then personal lengths.
void Shift(int k, double by, HeadPose* pose, PersonalVector* personal) {
  double* const turns[] = {&pose->yaw_rad, &pose->pitch_rad, &pose->roll_rad};
  double* const eyes[] = {&pose->left_out_rad, &pose->left_up_rad, &pose->right_out_rad,
                          &pose->right_up_rad};
  if (k < 3) {
    *turns[k] += by;
  } else if (k < 6) {
    pose->mid_in_camera_mm(k - 3) += by;
  } else if (k < kPoseCount) {
    *eyes[k - 6] += by;
  } else {
    (*personal)(k - kPoseCount) += by;
  }
}

}  // namespace

EyeTurns EyeTurnsOf(const HeadFit& fit, const HeadModel& model, const Eigen::Vector3d& target_mm) {
  const Angles at = AnglesOf(fit.pose, fit.personal, target_mm);
  Gradient left = Gradient::Zero(), right = Gradient::Zero(), behind = Gradient::Zero();
  for (int k = 0; k < kStateCount; ++k) {
    // Of the personal lengths the pupil distance says where an eye is, and the lenses where it
    // looks.
    const int personal_index = k - kPoseCount;
    if (personal_index >= 0 && personal_index != kPd &&
        (personal_index < kLensFirst || IsPinned(model, personal_index))) {
      continue;
    }
    constexpr double kStep = 1e-5;  // radians or millimetres
    HeadPose pose = fit.pose;
    PersonalVector personal = fit.personal;
    Shift(k, kStep, &pose, &personal);
    const Angles there = AnglesOf(pose, personal, target_mm);
    left(k) = (there.left_inward - at.left_inward) / kStep;
    right(k) = (there.right_inward - at.right_inward) / kStep;
    behind(k) = left(k) + right(k) -
                (there.left_demand + there.right_demand - at.left_demand - at.right_demand) / kStep;
  }
  const auto deviation = [&](const Gradient& g) {
    const VarianceParts variance = VarianceOf(g, fit, model);
    return TurnDeviation{Angle::Radians(std::sqrt(variance.frame)),
                         Angle::Radians(std::sqrt(variance.shared))};
  };
  // The turn of the head enters each eye alone, not their vergence. The landmarks' stated deviation
  // counts what is alike in all of them and in all frames; from frame to frame, and on eight
  // rendered heads, one eye's turn is known better by this.
  constexpr double kHeadIsSteadier = 0.75;
  const auto one_eye = [&](const Gradient& g) {
    TurnDeviation sd = deviation(g);
    sd.measured = kHeadIsSteadier * sd.measured;
    return sd;
  };
  EyeTurns out;
  out.left = {Angle::Radians(at.left_inward), Angle::Radians(at.left_up),
              Angle::Radians(at.left_demand), one_eye(left)};
  out.right = {Angle::Radians(at.right_inward), Angle::Radians(at.right_up),
               Angle::Radians(at.right_demand), one_eye(right)};
  out.vergence = out.left.inward + out.right.inward;
  out.demand = out.left.demand + out.right.demand;
  out.vergence_sd = deviation(left + right);
  if (!IsPinned(model, kLeftLens) || !IsPinned(model, kRightLens)) {
    Gradient power = Gradient::Zero();
    power(kPoseCount + kLeftLens) = power(kPoseCount + kRightLens) = 0.5;
    const Gradient with_power = fit.covariance * power;
    out.lens_shift = Angle::Radians(behind.dot(with_power) / std::sqrt(power.dot(with_power)));
  }
  return out;
}

}  // namespace nearpoint
