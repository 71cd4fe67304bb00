#include "vision/tracking/why_lost.h"

#include <gtest/gtest.h>

#include <opencv2/core.hpp>

#include "tests/vision/tracking/known_scene.h"

namespace nearpoint {
namespace {

EyeReading Reading(double present, double open, double aperture, double limbus_seen,
                   double radius_px = 30) {
  EyeReading reading;
  reading.present = present;
  reading.open = open;
  reading.aperture = aperture;
  reading.limbus_seen = limbus_seen;
  reading.iris_radius_px = radius_px;
  reading.iris_px = {640, 360};
  return reading;
}
const EyeReading kOpenEye = Reading(5, 5, 0.6, 0.4);
const EyeReading kHalfOpenEye = Reading(5, 1, 0.21, 0.2);
const EyeReading kShutEye = Reading(5, -3, 0.05, 0.0);
const EyeReading kNoEye = Reading(-5, 2, 0.6, 0.4);

class WhyLostTest : public ::testing::Test {
 protected:
  LostReason Why(std::optional<EyeReading> left, std::optional<EyeReading> right) {
    LookedAt looked;
    looked.expected = pose_;
    looked.eyes.left_reading = std::move(left);
    looked.eyes.right_reading = std::move(right);
    Channels picture(light_);
    return WhyLost(known_.Now(), picture, looked);
  }

  KnownScene known_;
  HeadPose pose_ = At(0, 0, 300);
  cv::Mat light_ = cv::Mat(720, 1280, CV_8UC3, cv::Scalar(120, 130, 150));
};

TEST_F(WhyLostTest, LidsAreToldByTheirOpening) {
  EXPECT_EQ(LidsOf(kOpenEye), LidState::kOpen);
  EXPECT_EQ(LidsOf(kHalfOpenEye), LidState::kHalf);
  EXPECT_EQ(LidsOf(kShutEye), LidState::kShut);
  EXPECT_EQ(LidsOf(kNoEye), LidState::kNoEye);
  // Wide lids over an iris that is turned under them leave nothing to measure.
  EXPECT_EQ(LidsOf(Reading(5, 5, 0.6, 0.05)), LidState::kHalf);
}

TEST_F(WhyLostTest, TheEyeThatIsSeenBestDecides) {
  EXPECT_EQ(Why(kShutEye, kShutEye), LostReason::kEyesClosed);
  EXPECT_EQ(Why(kShutEye, kNoEye), LostReason::kEyesClosed);
  EXPECT_EQ(Why(kHalfOpenEye, kShutEye), LostReason::kEyesHalfClosed);
  EXPECT_EQ(Why(kNoEye, kNoEye), LostReason::kEyesHidden);
  EXPECT_EQ(Why(kOpenEye, kShutEye), LostReason::kEyesHidden);  // glare: open, and no limbus
}

TEST_F(WhyLostTest, OpenEyesThatCannotBeMeasuredAreTooFarOrTooDark) {
  const EyeReading small = Reading(5, 5, 0.6, 0.4, 2.5);
  EXPECT_EQ(Why(small, small), LostReason::kTooFar);
  light_ = cv::Scalar(2, 2, 2);
  EXPECT_EQ(Why(kOpenEye, kOpenEye), LostReason::kTooDark);
}

TEST_F(WhyLostTest, WhereTheHeadIsComesFirst) {
  pose_ = At(0, 0, 40);
  EXPECT_EQ(Why(kShutEye, kShutEye), LostReason::kTooClose);
  pose_ = At(0, 0, 300);
  pose_.yaw_rad = 0.45;
  EXPECT_EQ(Why(kOpenEye, kOpenEye), LostReason::kHeadTurned);
}

TEST_F(WhyLostTest, NothingFollowedAndNothingFoundIsNoFace) {
  Channels picture(light_);
  EXPECT_EQ(WhyLost(known_.Now(), picture, {}), LostReason::kNoFace);
  LookedAt face;
  face.face = true;
  EXPECT_EQ(WhyLost(known_.Now(), picture, face), LostReason::kEyesHidden);
}

}  // namespace
}  // namespace nearpoint
