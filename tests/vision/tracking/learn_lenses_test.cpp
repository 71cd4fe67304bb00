#include "vision/tracking/learn_lenses.h"

#include <gmock/gmock.h>

#include <cmath>

#include "tests/vision/tracking/known_scene.h"

namespace nearpoint {
namespace {

HeadObservation See(const KnownScene& scene, const HeadPose& pose, const PersonalVector& truth) {
  const auto exactly = [](const PredictedIris& iris) {
    constexpr double kSd = 0.05;
    return IrisMeasurement{iris.centre_px, iris.semi_major_px,
                           Eigen::Vector3d(kSd * kSd, 4 * kSd * kSd, kSd * kSd).asDiagonal()};
  };
  HeadObservation o;
  o.left_iris =
      exactly(*PredictIris(pose, truth, scene.profile.camera, scene.profile.target_mm, true));
  o.right_iris =
      exactly(*PredictIris(pose, truth, scene.profile.camera, scene.profile.target_mm, false));
  for (std::size_t i = 0; i < kRigidLandmarks.size(); ++i) {
    const Eigen::Vector3d p =
        CameraFromHead(pose) * LandmarkInHeadMm(truth, static_cast<int>(i)) + pose.mid_in_camera_mm;
    o.landmarks[i] = LandmarkMeasurement{ProjectPoint(scene.profile.camera, p), 1.0};
  }
  return o;
}

double PowerSd(const HeadFit& fit) {
  return std::sqrt(fit.covariance(kPoseCount + kLeftLens, kPoseCount + kLeftLens));
}

struct Learned {
  HeadFit wide, fixating;
};

Learned Look(KnownScene& scene, double out_rad) {
  PersonalVector truth = scene.model.mean;
  truth(kLeftLens) = truth(kRightLens) = -4;
  HeadPose pose = At(0, 0, 300);
  pose.left_out_rad = out_rad;
  const HeadObservation seen = See(scene, pose, truth);
  PosePrior prior;
  prior.mean.mid_in_camera_mm = {0, 0, 310};
  const auto wide =
      FitHead(seen, scene.profile.camera, scene.profile.target_mm, scene.model, prior);
  return {*wide, FixatingFit(scene.Now(), *wide, seen)};
}

TEST(FixatingFit, TeachesMoreOfAnUnknownPower) {
  KnownScene scene;
  scene.profile.face.glasses = Glasses();
  scene.profile.face.glasses->worn = true;
  scene.model = MakeHeadModel(scene.profile.face);
  const Learned learned = Look(scene, 0);
  EXPECT_LT(PowerSd(learned.fixating), 0.8 * PowerSd(learned.wide));
  EXPECT_NEAR(learned.fixating.personal(kLeftLens), -4, 2 * PowerSd(learned.fixating));
}

TEST(FixatingFit, IsTheSameWithoutGlassesAndWhereAnEyeLooksElsewhere) {
  KnownScene none;
  const Learned plain = Look(none, 0);
  EXPECT_EQ(plain.fixating.personal, plain.wide.personal);
  KnownScene scene;
  scene.profile.face.glasses = Glasses();
  scene.profile.face.glasses->worn = true;
  scene.profile.face.glasses->left = scene.profile.face.glasses->right = LensPrescription();
  scene.profile.face.glasses->left->sphere.value = scene.profile.face.glasses->right->sphere.value =
      Diopters::Of(-4);
  scene.model = MakeHeadModel(scene.profile.face);
  const Learned drifted = Look(scene, 0.3);
  EXPECT_EQ(drifted.fixating.personal, drifted.wide.personal);
}

}  // namespace
}  // namespace nearpoint
