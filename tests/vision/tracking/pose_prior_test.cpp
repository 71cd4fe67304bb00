#include "vision/tracking/pose_prior.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>

#include "tests/vision/tracking/known_scene.h"

namespace nearpoint {
namespace {

using std::chrono::milliseconds;

// Convergence of a pupil distance of 60 mm on a point 26.74 cm before the centres of rotation:
// 2 atan(30 / 267.4) = 12.80 degrees (computed).
TEST(PosePrior, KnowsHowFarEyesCross) {
  const KnownScene known;
  const double before_cornea = 267.4 - kCentreOfRotationDepthMm;
  EXPECT_NEAR(VergenceAt(known.Now(), before_cornea) * 180 / std::numbers::pi, 12.80, 0.01);
}

TEST(PosePrior, IsWiderTheLongerNothingWasSeen) {
  const KnownScene known;
  HeadPose turned = At(0, 0, 300);
  turned.yaw_rad = 0.2;
  PosePrior before = PriorAround(known.Now(), turned, Time{}, Time{});
  EXPECT_DOUBLE_EQ(before.mean.yaw_rad, 0.2);
  for (const auto since : {milliseconds(33), milliseconds(100), milliseconds(400)}) {
    const PosePrior prior = PriorAround(known.Now(), turned, since, Time{});
    EXPECT_GT(prior.turn_sd_rad, before.turn_sd_rad);
    EXPECT_GT(prior.roll_sd_rad, before.roll_sd_rad);
    EXPECT_GT(prior.position_sd_mm, before.position_sd_mm);
    EXPECT_LT(std::abs(prior.mean.yaw_rad), before.mean.yaw_rad);
    before = prior;
  }
}

TEST(PosePrior, KnowsTheTurnLessWhereOneEyeWasFollowedAlone) {
  const KnownScene known;
  const HeadPose pose = At(0, 0, 80);
  EXPECT_GT(PriorAround(known.Now(), pose, milliseconds(33), milliseconds(200)).turn_sd_rad,
            PriorAround(known.Now(), pose, milliseconds(33), Time{}).turn_sd_rad);
}

TEST(PosePrior, PlacesAHeadBetweenItsEyes) {
  const KnownScene known;
  // 100 px apart and 20 px higher on the right: the line rises by atan(20 / 100).
  const PosePrior prior =
      PriorFromEyes(known.Now(), {589.5, 369.5}, {689.5, 349.5}, 200, std::nullopt);
  EXPECT_TRUE(prior.mean.mid_in_camera_mm.isApprox(Eigen::Vector3d(0, 0, 200), 1e-9));
  EXPECT_NEAR(prior.mean.roll_rad, std::atan(0.2), 1e-12);
}

TEST(PosePrior, RemembersTheTurnOfAHeadThatWasSeenAMomentAgo) {
  const KnownScene known;
  HeadPose turned = At(0, 0, 200);
  turned.yaw_rad = 0.15;
  const Eigen::Vector2d left(589.5, 359.5), right(689.5, 359.5);
  const auto soon =
      PriorFromEyes(known.Now(), left, right, 200, SeenBefore{turned, milliseconds(200)});
  const auto late =
      PriorFromEyes(known.Now(), left, right, 200, SeenBefore{turned, milliseconds(900)});
  EXPECT_DOUBLE_EQ(soon.mean.yaw_rad, 0.15);
  EXPECT_DOUBLE_EQ(late.mean.yaw_rad, 0);
  EXPECT_GT(late.turn_sd_rad, soon.turn_sd_rad);
}

TEST(PosePrior, DoesNotPullEyesToTheTargetThatMayLookBeforeIt) {
  KnownScene known;
  const double usual = AnyPose(known.Now()).eye_out_sd_rad;
  known.nearest_gaze = Length::Millimeters(80);
  EXPECT_GT(AnyPose(known.Now()).eye_out_sd_rad, 1.5 * usual);
}

}  // namespace
}  // namespace nearpoint
