#include "vision/distance/head_fit.h"

#include <gmock/gmock.h>

#include <Eigen/Cholesky>
#include <cmath>
#include <random>

#include "vision/core/ellipse.h"

namespace nearpoint {
namespace {

constexpr double kExact =
    1e-3;  // mm; what is left when the solver has converged on exact measurements

CameraIntrinsics Camera() {
  CameraIntrinsics camera;
  camera.width = 1280;
  camera.height = 720;
  camera.fx = camera.fy = 1004.6;
  camera.cx = 639.5;
  camera.cy = 359.5;
  camera.focal_rel_sd = 0.003;
  return camera;
}

FaceScale Face() {
  const auto mm = [](double v, double sd) {
    return UncertainLength{Length::Millimeters(v), Length::Millimeters(sd)};
  };
  FaceScale face;
  face.outer_corners = mm(84.9, 0.8);
  face.inner_corners = mm(35.1, 0.5);
  face.iris = mm(11.7, 0.15);
  face.distance_pd = mm(62, 0.5);
  face.outer_corner_depth = mm(9.9, 1.5);
  face.inner_corner_depth = mm(4.4, 1.5);
  return face;
}

const Eigen::Vector3d kTarget(0, 20, 0);

IrisMeasurement Exactly(const PredictedIris& iris, double sd = 0.05) {
  return {iris.centre_px, iris.semi_major_px,
          Eigen::Vector3d(sd * sd, 4 * sd * sd, sd * sd).asDiagonal()};
}

struct World {
  CameraIntrinsics camera = Camera();
  HeadModel model = MakeHeadModel(Face());
  HeadPose pose;

  [[nodiscard]] HeadObservation See(bool irises, bool landmarks, double sd = 0.05) const {
    HeadObservation o;
    if (irises) {
      o.left_iris = Exactly(*PredictIris(pose, model.mean, camera, kTarget, true), sd);
      o.right_iris = Exactly(*PredictIris(pose, model.mean, camera, kTarget, false), sd);
    }
    for (std::size_t i = 0; landmarks && i < kRigidLandmarks.size(); ++i) {
      const Eigen::Vector3d p =
          CameraFromHead(pose) * LandmarkInHeadMm(model.mean, static_cast<int>(i)) +
          pose.mid_in_camera_mm;
      o.landmarks[i] = LandmarkMeasurement{ProjectPoint(camera, p), 1.0};
    }
    return o;
  }

  [[nodiscard]] PosePrior Near(const Eigen::Vector3d& offset) const {
    PosePrior prior;
    prior.mean.mid_in_camera_mm = pose.mid_in_camera_mm + offset;
    return prior;
  }
};

// Eyes that look elsewhere than expected have another shape than they were measured with.
TEST(HeadFit, TakesAWidthForASizeOnlyTogetherWithTheTurnOfTheEye) {
  World world;
  world.pose.mid_in_camera_mm = {4, -3, 430};
  world.pose.left_out_rad = world.pose.right_out_rad = -0.17;  // converged 20 degrees before it
  HeadObservation o = world.See(true, true);
  for (auto* iris : {&o.left_iris, &o.right_iris}) {
    const auto is =
        PredictIris(world.pose, world.model.mean, world.camera, kTarget, iris == &o.left_iris);
    iris->value().log_width = 0;  // measured as a circle
    iris->value().per_log_width = {0, 0, 0.75 * is->semi_major_px};
    iris->value().semi_major_px +=
        LogWidth(is->aspect, is->angle_rad, 0) * iris->value().per_log_width.z();
  }
  PosePrior prior = world.Near({0, 0, 20});
  prior.eye_out_sd_rad = 1;
  const auto told = FitHead(o, world.camera, kTarget, world.model, prior);
  for (auto* iris : {&o.left_iris, &o.right_iris}) iris->value().per_log_width.setZero();
  const auto untold = FitHead(o, world.camera, kTarget, world.model, prior);
  ASSERT_TRUE(told && untold);
  EXPECT_NEAR(told->pose.left_out_rad, world.pose.left_out_rad, 0.01);
  EXPECT_NEAR(told->pose.mid_in_camera_mm.z(), 430, 0.5);
  EXPECT_GT(std::abs(untold->pose.left_out_rad - world.pose.left_out_rad), 0.02);
}

TEST(HeadFit, RecoversDistanceAcrossTheRangeFromExactMeasurements) {
  for (const double depth : {50.0, 70.0, 100.0, 150.0, 250.0, 400.0, 600.0}) {
    World world;
    world.pose.mid_in_camera_mm = {4, -3, depth};
    const auto fit = FitHead(world.See(true, depth > 140), world.camera, kTarget, world.model,
                             world.Near({0.03 * depth, 0, 0.15 * depth}));
    ASSERT_TRUE(fit) << depth;
    EXPECT_NEAR((fit->pose.mid_in_camera_mm - world.pose.mid_in_camera_mm).norm(), 0, 20 * kExact)
        << depth;
  }
}

TEST(HeadFit, RecoversATurnedHeadThroughALensWithDistortion) {
  World world;
  world.camera.distortion = {-0.12, 0.05, 0.001, -0.0005, 0.0};
  world.pose.mid_in_camera_mm = {25, -18, 300};
  world.pose.yaw_rad = 0.15;
  world.pose.pitch_rad = -0.1;
  world.pose.roll_rad = 0.08;
  PosePrior prior = world.Near({5, 5, -30});
  prior.turn_sd_rad = 10;  // no prior opinion on the turn
  const auto fit = FitHead(world.See(true, true, 0.01), world.camera, kTarget, world.model, prior);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->pose.yaw_rad, 0.15, 0.01);
  EXPECT_NEAR(fit->pose.roll_rad, 0.08, 0.003);
  EXPECT_NEAR(fit->pose.mid_in_camera_mm.z(), 300, 1.0);
}

// A drifting eye moves its iris by 2 pixels a degree at 80 mm. The distance must not follow.
TEST(HeadFit, DriftOfOneEyeDoesNotLeakIntoTheDistance) {
  for (const double depth : {80.0, 120.0, 150.0}) {
    World world;
    world.pose.mid_in_camera_mm = {0, 0, depth};
    world.pose.left_out_rad = 6 * M_PI / 180;
    const HeadObservation drifted = world.See(true, false);
    const auto fit = FitHead(drifted, world.camera, kTarget, world.model, world.Near({0, 0, 5}));
    ASSERT_TRUE(fit);
    EXPECT_NEAR(fit->pose.mid_in_camera_mm.z(), depth, 1.0) << depth;
    EXPECT_NEAR(fit->pose.left_out_rad + fit->pose.right_out_rad, world.pose.left_out_rad, 0.02)
        << depth;
  }
}

TEST(HeadFit, OneEyeAloneStillGivesADistance) {
  World world;
  world.pose.mid_in_camera_mm = {0, 0, 60};
  HeadObservation o = world.See(true, false);
  const auto both = FitHead(o, world.camera, kTarget, world.model, world.Near({0, 0, 3}));
  o.left_iris.reset();
  const auto one = FitHead(o, world.camera, kTarget, world.model, world.Near({0, 0, 3}));
  ASSERT_TRUE(both && one);
  EXPECT_NEAR(one->pose.mid_in_camera_mm.z(), 60, 1.0);
  EXPECT_GT(one->covariance(5, 5), both->covariance(5, 5));
}

TEST(HeadFit, ScalesWithEveryLength) {
  // A person, a target and a depth twice as large give the same picture: the answer must double.
  World world;
  world.pose.mid_in_camera_mm = {0, 0, 200};
  HeadObservation o = world.See(false, true);
  HeadModel doubled = world.model;
  doubled.mean *= 2;
  doubled.covariance *= 4;
  PosePrior prior = world.Near({0, 0, 10});
  const auto small = FitHead(o, world.camera, kTarget, world.model, prior);
  prior.mean.mid_in_camera_mm *= 2;
  const auto large = FitHead(o, world.camera, 2 * kTarget, doubled, prior);
  ASSERT_TRUE(small && large);
  EXPECT_NEAR(large->pose.mid_in_camera_mm.z(), 2 * small->pose.mid_in_camera_mm.z(), 0.05);
}

TEST(HeadFit, AMirroredFaceIsAsFarAway) {
  World world;
  world.pose.mid_in_camera_mm = {12, 5, 90};
  world.pose.yaw_rad = 0.05;
  world.camera.cx = 639.5;
  const auto fit =
      FitHead(world.See(true, false), world.camera, kTarget, world.model, world.Near({0, 0, 5}));
  World mirror = world;
  mirror.pose.mid_in_camera_mm.x() *= -1;
  mirror.pose.yaw_rad *= -1;
  const auto mirrored = FitHead(mirror.See(true, false), mirror.camera, kTarget, mirror.model,
                                mirror.Near({0, 0, 5}));
  ASSERT_TRUE(fit && mirrored);
  EXPECT_NEAR(fit->pose.mid_in_camera_mm.z(), mirrored->pose.mid_in_camera_mm.z(), kExact);
  EXPECT_NEAR(fit->pose.yaw_rad, -mirrored->pose.yaw_rad, 1e-4);
}

// Noise of the stated size on every measurement, personal lengths and the turn of the eyes drawn
// from their priors: the errors must have the stated size too.
TEST(DistanceToTarget, SpreadMatchesTheClaimedSigma) {
  for (const double depth : {70.0, 130.0, 350.0}) {
    std::mt19937 random(5);
    std::normal_distribution<double> normal;
    Profile profile;
    profile.camera = Camera();
    profile.face = Face();
    profile.target_mm = kTarget;
    const double iris_sd = 0.12;
    double measured = 0, total = 0;
    constexpr int kRuns = 300;
    const HeadModel assumed = MakeHeadModel(Face());
    Eigen::LLT<PersonalMatrix> root(assumed.covariance);
    for (int run = 0; run < kRuns; ++run) {
      World world;
      PersonalVector draw;
      for (int i = 0; i < kPersonalCount; ++i) draw(i) = normal(random);
      world.model.mean += root.matrixL() * draw;  // the true person
      world.pose.mid_in_camera_mm = {0, 0, depth};
      const PosePrior prior = world.Near({0, 0, 0.05 * depth});
      world.pose.left_out_rad = prior.eye_out_sd_rad * normal(random);
      world.pose.right_out_rad = prior.eye_out_sd_rad * normal(random);
      world.pose.left_up_rad = prior.eye_up_sd_rad * normal(random);
      world.pose.right_up_rad = prior.eye_up_sd_rad * normal(random);
      world.pose.yaw_rad = prior.turn_sd_rad * normal(random);
      world.pose.pitch_rad = prior.turn_sd_rad * normal(random);
      HeadObservation o = world.See(true, depth > 140, iris_sd);
      for (auto* iris : {&o.left_iris, &o.right_iris}) {
        (*iris)->centre_px +=
            Eigen::Vector2d(iris_sd * normal(random), 2 * iris_sd * normal(random));
        (*iris)->semi_major_px += iris_sd * normal(random);
      }
      for (auto& landmark : o.landmarks) {
        if (landmark) landmark->position_px += Eigen::Vector2d(normal(random), normal(random));
      }
      const auto fit = FitHead(o, world.camera, kTarget, assumed, prior);
      ASSERT_TRUE(fit);
      const TargetDistance distance = DistanceToTarget(*fit, assumed, profile);
      const double truth = (world.pose.mid_in_camera_mm - kTarget).norm();
      const double claimed = std::hypot(distance.measured_sd.mm(), distance.shared_sd.mm());
      // Focal length, target and corneal offset are exact in this world.
      const double known = std::hypot(0.003 * depth, kCornealOffsetSdMm);
      measured += std::pow(distance.value.mm() - truth, 2);
      total += claimed * claimed - known * known;
    }
    const double ratio = std::sqrt(measured / total);
    EXPECT_GT(ratio, 0.75) << depth;
    EXPECT_LT(ratio, 1.25) << depth;
  }
}

TEST(HeadFit, RefusesAnEmptyObservation) {
  const World world;
  EXPECT_FALSE(FitHead({}, world.camera, kTarget, world.model, {}));
}

TEST(HeadFit, RefusesAHeadBehindTheLens) {
  World world;
  world.pose.mid_in_camera_mm = {0, 0, 200};
  PosePrior prior;
  prior.mean.mid_in_camera_mm = {0, 0, -100};
  EXPECT_FALSE(FitHead(world.See(true, false), world.camera, kTarget, world.model, prior));
}

}  // namespace
}  // namespace nearpoint
