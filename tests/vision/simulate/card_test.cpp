// The card is drawn where its truth says, covers what is behind it, and changes nothing where it is
// not.
#include <gtest/gtest.h>

#include <cmath>

#include "vision/card/draw_pattern.h"
#include "vision/card/find_pattern.h"
#include "vision/simulate/options_check.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/studio.h"

namespace nearpoint::simulate {
namespace {

PatientOptions WithCard(CardPlace place) {
  PatientOptions options;
  options.optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  options.target_mm = {0, 0, 0};
  CardProp card;
  card.place = place;
  card.picture = DrawCardPattern(10);
  options.card = card;
  return options;
}

PatientState Pose(const PatientOptions& options, double mm, double yaw_deg = 0) {
  return Performance::Posed(options, Length::Millimeters(mm), Angle::Degrees(yaw_deg), {}, {});
}

class SimulateCard : public testing::TestWithParam<CardPlace> {};

TEST_P(SimulateCard, IsDrawnWhereTheTruthSays) {
  PatientOptions options = WithCard(GetParam());
  options.card->fingers = Length::Millimeters(-30);
  options.optics.camera.distortion = {-0.08, 0.02, 0.001, -0.0005, 0};
  Studio studio(options);
  const PatientState state = Pose(options, GetParam() == CardPlace::kHeld ? 250 : 450, 7);
  const auto seen = FindPattern(studio.TakeStill(0, state));
  const FrameTruth truth = studio.Truth(0, {}, state);
  ASSERT_TRUE(truth.card.has_value());
  ASSERT_TRUE(seen.has_value());
  EXPECT_GE(seen->markers.size(), 9U);
  double squares = 0;
  for (const PatternCorner& corner : seen->corners) {
    const Eigen::Vector2d px = Project(
        options.optics.camera, truth.card->ToCamera({corner.card_mm.x(), corner.card_mm.y(), 0}));
    squares += (px - corner.image_px).squaredNorm();
  }
  EXPECT_LT(std::sqrt(squares / (2.0 * static_cast<double>(seen->corners.size()))), 0.15);
}
INSTANTIATE_TEST_SUITE_P(Places, SimulateCard,
                         testing::Values(CardPlace::kForehead, CardPlace::kUnderNose,
                                         CardPlace::kHeld, CardPlace::kTouch));

TEST(SimulateCardTruth, TheHeldTargetIsAsFarFromTheEyesAsAsked) {
  const PatientOptions options = WithCard(CardPlace::kHeld);
  for (const double mm : {400.0, 150.0, 40.0}) {
    const PatientState state = Pose(options, mm);
    const Eigen::Vector3d target = state.card->ToCamera(options.card->target_in_card_mm);
    EXPECT_NEAR((target - state.target_mm).norm(), 0, 1e-9);
    EXPECT_NEAR((target - state.eye_mid_mm).norm(), mm, 1e-9);
    EXPECT_NEAR(state.distance_mm, mm, 1e-9);
    for (std::size_t eye = 0; eye < 2; ++eye) {  // and both eyes look at it
      const Eigen::Vector3d aim = (target - state.centre_mm[eye]).normalized();
      EXPECT_NEAR(aim.dot(state.gaze[eye]), 1, 1e-9);
    }
  }
}

TEST(SimulateCardTruth, OnTheFaceItTurnsWithTheHeadOrStays) {
  PatientOptions options = WithCard(CardPlace::kForehead);
  const auto in_head = [&](double yaw) {
    const PatientState s = Pose(options, 450, yaw);
    return Eigen::Vector3d(s.camera_from_head.transpose() * (s.card->middle_mm - s.eye_mid_mm));
  };
  EXPECT_NEAR((in_head(0) - in_head(12)).norm(), 0, 1e-9);
  options.card->moves_with_head = false;
  EXPECT_GT((in_head(0) - in_head(12)).norm(), 2);
}

TEST(SimulateCardPicture, CoversTheFaceBehindItAndNothingElse) {
  const PatientOptions options = WithCard(CardPlace::kHeld);
  const PatientState state = Pose(options, 200);
  PatientState without = state;
  without.card.reset();
  Renderer renderer(options);
  cv::Mat drawn;
  cv::Mat bare;
  renderer.Draw(state, 1, drawn);
  renderer.Draw(without, 1, bare);
  const auto differs = [&](const Eigen::Vector2d& px) {
    const cv::Point at(static_cast<int>(std::lround(px.x())),
                       static_cast<int>(std::lround(px.y())));
    return drawn.at<cv::Vec3w>(at) != bare.at<cv::Vec3w>(at);
  };
  EXPECT_TRUE(differs(Project(options.optics.camera, state.card->ToCamera({0, 0, 0}))));
  EXPECT_FALSE(differs(
      Project(options.optics.camera, state.centre_mm[kLeft] + kLimbusMm * state.gaze[kLeft])));
  EXPECT_FALSE(differs({20, 20}));
}

TEST(SimulateCardPicture, WithoutACardPicturesAreAsTheyWere) {
  const PatientOptions with = WithCard(CardPlace::kForehead);
  PatientOptions without = with;
  without.card.reset();
  const PatientState state = Pose(without, 350, 4);
  Renderer a(with);
  Renderer b(without);
  cv::Mat first;
  cv::Mat second;
  a.Draw(state, 1.2, first);
  b.Draw(state, 1.2, second);
  EXPECT_EQ(cv::norm(first, second, cv::NORM_INF), 0);
}

TEST(SimulateCardOptions, NeedAPictureAndSensibleNumbers) {
  PatientOptions options = WithCard(CardPlace::kHeld);
  EXPECT_TRUE(CheckOptions(options).has_value());
  options.card->bend = Length::Millimeters(50);
  const auto bent = CheckOptions(options);
  ASSERT_FALSE(bent.has_value());
  EXPECT_NE(bent.error().message.find("card.bend"), std::string::npos);
  options.card->picture = cv::Mat();
  const auto bare = CheckOptions(options);
  ASSERT_FALSE(bare.has_value());
  EXPECT_NE(bare.error().message.find("card.picture"), std::string::npos);
}

}  // namespace
}  // namespace nearpoint::simulate
