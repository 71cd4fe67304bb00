// A simulated patient with a card on the face: its lengths, and what must be refused.
#include <gmock/gmock.h>

#include <map>
#include <vector>

#include "calibration/face_plausible.h"
#include "models/landmark_model.h"
#include "tests/support/result_matchers.h"
#include "vision/card/draw_pattern.h"
#include "vision/pipeline/face_card_observer.h"
#include "vision/simulate/studio.h"

namespace nearpoint {
namespace {

using simulate::CardPlace;
using testing::HasSubstr;

simulate::PatientOptions Options() {
  simulate::PatientOptions o;
  o.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  o.target_mm = {0, 0, 0};
  simulate::CardProp card;
  card.picture = DrawCardPattern(10);
  o.card = card;
  return o;
}

struct Outcome {
  std::vector<FaceCardView> views;
  std::map<NoFaceCard, int> refused;
};

// Stills with the head turned from side to side.
Outcome Show(const simulate::PatientOptions& options, int pictures) {
  Outcome out;
  auto observer = FaceCardObserver::Create(options.optics.camera,
                                           {*FindLandmarkModel(), *FindLidCornerModel()});
  EXPECT_THAT(observer, IsOk());
  simulate::Studio studio(options);
  for (int i = 0; observer && i < pictures; ++i) {
    const double yaw = 24.0 * i / (pictures - 1) - 12;
    const auto state = simulate::Performance::Posed(options, Length::Millimeters(450),
                                                    Angle::Degrees(yaw), {}, {});
    const auto seen =
        observer->Process(Frame(i, FromMilliseconds(100.0 * i), studio.TakeStill(i, state)));
    EXPECT_THAT(seen, IsOk());
    if (seen->view) {
      out.views.push_back(*seen->view);
    } else {
      ++out.refused[*seen->why];
    }
  }
  return out;
}

class FaceCard : public testing::Test {
 protected:
  void SetUp() override {
    if (!FindLandmarkModel()) GTEST_SKIP() << "no landmark model on this machine";
  }
};

TEST_F(FaceCard, GivesTheScaleOfAnUnusualFace) {
  auto options = Options();
  options.appearance.distance_pd = Length::Millimeters(55);
  options.appearance.head_scale = 0.88;
  options.appearance.iris = Length::Millimeters(12.2);
  const auto fit = FitFaceScale(Show(options, 11).views, options.optics.camera);
  ASSERT_THAT(fit, IsOk());
  const FaceScale truth = simulate::TrueProfile(options).face;
  EXPECT_NEAR(fit->face.iris->value.mm() / truth.iris->value.mm(), 1, 0.015);
  EXPECT_NEAR(fit->face.distance_pd->value.mm() / truth.distance_pd->value.mm(), 1, 0.01);
  // The corners are those of the landmark model, with its deviation.
  EXPECT_NEAR(fit->face.outer_corners->value.mm(), truth.outer_corners->value.mm(),
              3 * fit->face.outer_corners->sd.mm());
  EXPECT_NEAR(fit->face.inner_corners->value.mm(), truth.inner_corners->value.mm(),
              3 * fit->face.inner_corners->sd.mm());
}

TEST_F(FaceCard, UnderTheNoseToo) {
  auto options = Options();
  options.card->place = CardPlace::kUnderNose;
  const auto fit = FitFaceScale(Show(options, 11).views, options.optics.camera);
  ASSERT_THAT(fit, IsOk());
  EXPECT_NEAR(fit->face.iris->value.mm() / 11.7, 1, 0.015);
  EXPECT_NEAR(fit->face.distance_pd->value.mm() / 62, 1, 0.01);
}

TEST_F(FaceCard, ABentCardIsSeen) {
  auto options = Options();
  options.card->bend = Length::Millimeters(5);
  const Outcome seen = Show(options, 3);
  EXPECT_TRUE(seen.views.empty());
  EXPECT_EQ(seen.refused.at(NoFaceCard::kBent), 3);
}

TEST_F(FaceCard, AHalfCoveredCardIsNotTaken) {
  auto options = Options();
  options.card->fingers = Length::Millimeters(42);
  EXPECT_TRUE(Show(options, 3).views.empty());
}

// In one picture a tilt explains another shape nearly as well; the shape left free shows it.
TEST_F(FaceCard, APatternOfAnotherShapeIsRefusedWithItsShape) {
  auto options = Options();
  options.card->width = Length::Millimeters(100);
  options.card->height = Length::Millimeters(60);
  EXPECT_THAT(FitFaceScale(Show(options, 9).views, options.optics.camera),
              FailsWith(ErrorCode::kMismatch, testing::HasSubstr("95.")));
}

// As large in both directions, and nothing in the picture tells; what gives it away is the iris
// that nobody has.
TEST_F(FaceCard, APatternOfAnotherSizeIsDoubted) {
  auto options = Options();
  options.card->width = options.card->width * 1.14;
  options.card->height = options.card->height * 1.14;
  const auto fit = FitFaceScale(Show(options, 9).views, options.optics.camera);
  ASSERT_THAT(fit, IsOk());
  const auto doubts = FaceDoubts(fit->face, {});
  ASSERT_FALSE(doubts.empty());
  EXPECT_THAT(doubts.front().text, testing::HasSubstr("iris diameter"));
}

TEST_F(FaceCard, ACardThatStaysBehindGivesNoScale) {
  auto options = Options();
  options.card->moves_with_head = false;
  options.card->gap = Length::Millimeters(20);
  EXPECT_FALSE(FitFaceScale(Show(options, 9).views, options.optics.camera).has_value());
}

TEST_F(FaceCard, APictureOfAnotherSizeIsAMismatch) {
  auto observer = FaceCardObserver::Create(Options().optics.camera,
                                           {*FindLandmarkModel(), *FindLidCornerModel()});
  ASSERT_THAT(observer, IsOk());
  EXPECT_THAT(observer->Process(Frame(0, {}, cv::Mat(480, 640, CV_8UC3, cv::Scalar::all(90)))),
              FailsWith(ErrorCode::kMismatch, HasSubstr("640x480")));
}

}  // namespace
}  // namespace nearpoint
