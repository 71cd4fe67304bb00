#include "vision/tracking/two_eyes.h"

#include <gmock/gmock.h>

#include <numbers>

#include "tests/vision/tracking/known_scene.h"

namespace nearpoint {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

HeadFit EyesTurnedOut(double left_deg, double right_deg, double z_mm) {
  HeadFit fit;
  fit.pose = At(0, 0, z_mm);
  fit.pose.left_out_rad = left_deg * kDegree;
  fit.pose.right_out_rad = right_deg * kDegree;
  return fit;
}

// Drifts of 12 degrees are what the break is about; two irises that cross 10 degrees before the
// target, or point 20 apart, are a nostril and a brow.
TEST(TwoEyes, LookAtOneTargetAlsoWhileOneDriftsOut) {
  const KnownScene known;
  EXPECT_TRUE(OnOneTarget(known.Now(), EyesTurnedOut(0, 0, 100)));
  EXPECT_TRUE(OnOneTarget(known.Now(), EyesTurnedOut(12, 0, 100)));
  EXPECT_FALSE(OnOneTarget(known.Now(), EyesTurnedOut(-5, -5, 100)));
  EXPECT_FALSE(OnOneTarget(known.Now(), EyesTurnedOut(10, 10, 100)));
}

TEST(TwoEyes, AreBelievedLessWhenFoundAfresh) {
  const KnownScene known;
  const HeadFit drifted = EyesTurnedOut(12, 0, 100);
  EXPECT_TRUE(OnOneTarget(known.Now(), drifted));
  EXPECT_FALSE(FoundOnOneTarget(known.Now(), drifted));
  EXPECT_TRUE(OddlyApart(drifted));
  EXPECT_FALSE(OddlyApart(EyesTurnedOut(5, 0, 100)));
}

// At 400 mm a pupil distance of 60 asks for 8.4 degrees, at 80 mm for 37: the eyes may cross by the
// difference and no more.
TEST(TwoEyes, MayLookBeforeTheTargetAsFarAsIsSaid) {
  KnownScene known;
  const HeadFit crossed = EyesTurnedOut(-14, -14, 400);
  EXPECT_FALSE(OnOneTarget(known.Now(), crossed));
  known.nearest_gaze = Length::Millimeters(80);
  EXPECT_TRUE(OnOneTarget(known.Now(), crossed));
  EXPECT_FALSE(OnOneTarget(known.Now(), EyesTurnedOut(-20, -20, 400)));
  // A gaze that is farther than the target changes nothing.
  known.nearest_gaze = Length::Millimeters(600);
  EXPECT_FALSE(OnOneTarget(known.Now(), crossed));
}

TEST(TwoEyes, BelongToAHeadThatFacesTheCamera) {
  HeadFit fit = EyesTurnedOut(0, 0, 100);
  EXPECT_TRUE(Plausible(fit));
  fit.pose.yaw_rad = 1.01 * kMaxTurnRad;
  EXPECT_FALSE(Plausible(fit));
  fit.pose.yaw_rad = 0;
  fit.pose.pitch_rad = -1.01 * kMaxTurnRad;
  EXPECT_FALSE(Plausible(fit));
  EXPECT_FALSE(Plausible(EyesTurnedOut(0, 0, 5)));
  EXPECT_FALSE(Plausible(EyesTurnedOut(0, 0, 2000)));
}

}  // namespace
}  // namespace nearpoint
