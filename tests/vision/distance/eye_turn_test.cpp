#include "vision/distance/eye_turn.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>
#include <random>

namespace nearpoint {
namespace {

CameraIntrinsics Camera() {
  CameraIntrinsics camera;
  camera.width = 1280;
  camera.height = 720;
  camera.fx = camera.fy = 1004.6;
  camera.cx = 639.5;
  camera.cy = 359.5;
  return camera;
}

HeadModel Model(double pd_mm, double pd_sd_mm) {
  FaceScale face;
  face.distance_pd = UncertainLength{Length::Millimeters(pd_mm), Length::Millimeters(pd_sd_mm)};
  face.iris = UncertainLength{Length::Millimeters(11.7), Length::Millimeters(0.1)};
  return MakeHeadModel(face);
}

HeadObservation See(const HeadPose& pose, const HeadModel& model, const Eigen::Vector3d& target,
                    double sd_px, const Eigen::Vector<double, 6>& noise) {
  HeadObservation o;
  const Eigen::Matrix3d covariance =
      Eigen::Vector3d(sd_px * sd_px, sd_px * sd_px, sd_px * sd_px).asDiagonal();
  for (const bool left : {true, false}) {
    const auto iris = PredictIris(pose, model.mean, Camera(), target, left);
    const Eigen::Vector3d off = left ? noise.head<3>() : noise.tail<3>();
    (left ? o.left_iris : o.right_iris) = IrisMeasurement{
        iris->centre_px + sd_px * off.head<2>(), iris->semi_major_px + sd_px * off(2), covariance};
  }
  return o;
}

std::optional<HeadFit> FitTo(const HeadObservation& seen, const HeadPose& near,
                             const HeadModel& model, const Eigen::Vector3d& target) {
  PosePrior prior;
  prior.mean = near;
  prior.turn_sd_rad = prior.roll_sd_rad = 1e-3;  // a still head: the eyes alone are asked
  return FitHead(seen, Camera(), target, model, prior);
}

// Convergence of two eyes, pupil distance p, target x before the corneal plane,
// centre of rotation 13.5 mm behind it: 2 atan(p / 2 / (x + 13.5)). p 64, x 50: 53.49 degrees, and
// p 64, x 400 gives 2 atan(32 / 413.5) (computed from the formula, as in handbooks of optometry).
TEST(EyeTurns, MeetTheConvergenceFormula) {
  for (const auto& [x, degrees] :
       {std::pair(50.0, 53.49), std::pair(400.0, 2 * std::atan(32 / 413.5) * 180 / M_PI)}) {
    const HeadModel model = Model(64, 0.5);
    const Eigen::Vector3d target(0, 0, 0);
    HeadPose pose;
    pose.mid_in_camera_mm = {0, 0, x};
    const auto fit = FitTo(See(pose, model, target, 0.05, Eigen::Vector<double, 6>::Zero()), pose,
                           model, target);
    ASSERT_TRUE(fit);
    const EyeTurns turns = EyeTurnsOf(*fit, model, target);
    EXPECT_NEAR(turns.demand.deg(), degrees, 0.01);
    EXPECT_NEAR(turns.vergence.deg(), degrees, 0.01);
    EXPECT_NEAR(turns.left.inward.deg(), turns.right.inward.deg(), 0.01);
  }
}

TEST(EyeTurns, TellWhichEyeTurnedOut) {
  const HeadModel model = Model(62, 1e-3);
  const Eigen::Vector3d target(0, 20, 0);
  HeadPose pose;
  pose.mid_in_camera_mm = {0, 0, 90};
  HeadPose drifted = pose;
  drifted.right_out_rad = 0.1;
  HeadObservation seen = See(drifted, model, target, 0.02, Eigen::Vector<double, 6>::Zero());
  // Two irises alone cannot tell one drifting eye from a shifted head: skin between them can.
  const Eigen::Vector3d bridge(0, 0, 8);
  seen.anchor = AnchorMeasurement{
      bridge,
      ProjectPoint(Camera(), CameraFromHead(pose) * bridge + pose.mid_in_camera_mm),
      {0.2, 2}};
  const auto fit = FitTo(seen, pose, model, target);
  ASSERT_TRUE(fit);
  const EyeTurns turns = EyeTurnsOf(*fit, model, target);
  EXPECT_NEAR((turns.right.demand - turns.right.inward).deg(), 0.1 * 180 / M_PI, 0.6);
  EXPECT_NEAR((turns.left.demand - turns.left.inward).deg(), 0, 0.6);
}

// The stated deviation of a frame is the spread of the vergence over many noisy frames of one
// person; what a wrong pupil distance does is in the shared part and in it alone.
TEST(EyeTurns, DeviationsAreWhatRepeatsShow) {
  const HeadModel model = Model(62, 0.5);
  const Eigen::Vector3d target(0, 20, 0);
  HeadPose pose;
  pose.mid_in_camera_mm = {1, -2, 100};
  std::mt19937 random(5);
  std::normal_distribution<double> normal;
  constexpr int kRuns = 400;
  double sum = 0, square = 0, stated = 0, shared = 0;
  for (int run = 0; run < kRuns; ++run) {
    Eigen::Vector<double, 6> noise;
    for (double& n : noise) n = normal(random);
    const auto fit = FitTo(See(pose, model, target, 0.15, noise), pose, model, target);
    ASSERT_TRUE(fit);
    const EyeTurns turns = EyeTurnsOf(*fit, model, target);
    sum += turns.vergence.deg();
    square += turns.vergence.deg() * turns.vergence.deg();
    stated += turns.vergence_sd.measured.deg() / kRuns;
    shared += turns.vergence_sd.shared.deg() / kRuns;
  }
  const double spread = std::sqrt(square / kRuns - sum * sum / kRuns / kRuns);
  EXPECT_GT(stated, 0.8 * spread);
  EXPECT_LT(stated, 1.6 * spread);  // the prior pulls each frame toward the target

  // The same pictures read with a pupil distance that is one deviation too large.
  HeadModel wrong = model;
  wrong.mean(kPd) += 0.5;
  const auto noise = Eigen::Vector<double, 6>::Zero();
  const auto right_fit = FitTo(See(pose, model, target, 0.15, noise), pose, model, target);
  const auto wrong_fit = FitTo(See(pose, model, target, 0.15, noise), pose, wrong, target);
  const double shift = (EyeTurnsOf(*wrong_fit, wrong, target).vergence -
                        EyeTurnsOf(*right_fit, model, target).vergence)
                           .deg();
  EXPECT_NEAR(std::abs(shift), shared, 0.35 * shared);
}

}  // namespace
}  // namespace nearpoint
