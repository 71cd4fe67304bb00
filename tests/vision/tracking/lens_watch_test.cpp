#include "vision/tracking/lens_watch.h"

#include <gmock/gmock.h>

#include <cmath>

#include "tests/vision/tracking/known_scene.h"

namespace nearpoint {
namespace {

HeadObservation See(const Profile& profile, const HeadPose& pose, const PersonalVector& truth) {
  const auto exactly = [](const PredictedIris& iris) {
    constexpr double kSd = 0.05;
    return IrisMeasurement{iris.centre_px, iris.semi_major_px,
                           Eigen::Vector3d(kSd * kSd, 4 * kSd * kSd, kSd * kSd).asDiagonal()};
  };
  HeadObservation o;
  o.left_iris = exactly(*PredictIris(pose, truth, profile.camera, profile.target_mm, true));
  o.right_iris = exactly(*PredictIris(pose, truth, profile.camera, profile.target_mm, false));
  return o;
}

struct Watched {
  LensWatch watch;
  LensDoubt last;
};

// A second and a half of a slow approach from 40 cm behind lenses of this power.
Watched Approach(const KnownScene& scene, double power) {
  Watched out{LensWatch(scene.profile), {}};
  PersonalVector truth = scene.model.mean;
  truth(kLeftLens) = truth(kRightLens) = power;
  for (int i = 0; i < 20; ++i) {
    const HeadPose pose = At(2, -3, 400 - 8 * i);
    const HeadObservation seen = See(scene.profile, pose, truth);
    PosePrior prior;
    prior.mean = pose;
    const auto fit =
        FitHead(seen, scene.profile.camera, scene.profile.target_mm, scene.model, prior);
    EXPECT_TRUE(fit);
    out.last = out.watch.Look(*fit, seen, i == 0 ? 1 : 0.07);
  }
  return out;
}

TEST(LensWatch, FindsStrongLensesThatNobodySpokeOf) {
  const KnownScene scene;
  EXPECT_NEAR(LensWatch(scene.profile).probability(), 1.0 / 3, 1e-9);
  for (const double power : {-6.0, 5.0}) {
    const Watched seen = Approach(scene, power);
    EXPECT_TRUE(seen.watch.Worn()) << power;
    EXPECT_NEAR(seen.watch.model().mean(kLeftLens), power, 1.5) << power;
    EXPECT_EQ(seen.watch.profile().face.glasses->worn, true);
  }
}

TEST(LensWatch, LeavesEyesWithoutLensesAloneAndSaysHowOpenItIs) {
  const KnownScene scene;
  const Watched seen = Approach(scene, 0);
  EXPECT_LT(seen.watch.probability(), 0.25);
  EXPECT_LT(seen.last.distance.mm(), 0.01 * 250);
  // Weak lenses cannot be told from none; then what they could do is stated.
  const Watched weak = Approach(scene, -2);
  if (!weak.watch.Worn()) {
    EXPECT_GT(weak.last.distance.mm(), seen.last.distance.mm());
  }
}

TEST(LensWatch, LearnsNothingWhereItOnlyLooks) {
  const KnownScene scene;
  LensWatch watch(scene.profile);
  PersonalVector truth = scene.model.mean;
  truth(kLeftLens) = truth(kRightLens) = -8;
  const HeadPose pose = At(0, 0, 90);
  const HeadObservation seen = See(scene.profile, pose, truth);
  PosePrior prior;
  prior.mean = pose;
  const auto fit = FitHead(seen, scene.profile.camera, scene.profile.target_mm, scene.model, prior);
  ASSERT_TRUE(fit);
  const LensDoubt doubt = watch.Look(*fit, seen, 0);
  EXPECT_NEAR(watch.probability(), 1.0 / 3, 1e-9);
  EXPECT_GT(doubt.distance.mm(), 0.5);
  EXPECT_GT(doubt.vergence.deg(), 0.5);
}

}  // namespace
}  // namespace nearpoint
