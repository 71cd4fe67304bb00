#include "vision/pipeline/card_placement.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "vision/card/card_pattern.h"
#include "vision/card/draw_pattern.h"
#include "vision/simulate/studio.h"

namespace nearpoint {
namespace {

simulate::PatientOptions Options() {
  simulate::PatientOptions options;
  options.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  options.optics.camera.distortion = {-0.05, 0.01, 0, 0, 0};
  simulate::CardProp card;
  card.place = simulate::CardPlace::kHeld;
  card.picture = DrawCardPattern(10);
  options.card = card;
  return options;
}

struct Placed {
  CardPlacement card;
  simulate::CardPose truth;
};
std::optional<Placed> Place(const simulate::PatientOptions& options, double mm) {
  simulate::Studio studio(options);
  const auto state = simulate::Performance::Posed(options, Length::Millimeters(mm), {}, {}, {});
  const auto pattern = FindPattern(studio.TakeStill(0, state));
  if (!pattern) return std::nullopt;
  const auto card = PlaceCard(*pattern, options.optics.camera);
  if (!card) return std::nullopt;
  return Placed{*card, *state.card};
}

TEST(CardPlacement, FindsPoseAndTarget) {
  for (const double mm : {60.0, 250.0}) {
    auto options = Options();
    options.card->turned = Angle::Degrees(8);
    options.card->tipped = Angle::Degrees(-12);
    // No hand: a marker that the thumb half covers has corners a pixel off, which weigh little in
    // the pose and much in the misfit.
    options.card->fingers = Length::Millimeters(-30);
    const auto placed = Place(options, mm);
    ASSERT_TRUE(placed.has_value());
    const Eigen::Vector3d target(kCardTargetX, kCardTargetY, 1);
    // Well under the 3 mm that the held card may be off in all.
    EXPECT_NEAR((placed->card.ToCamera(target) - placed->truth.ToCamera(target)).norm(), 0,
                0.002 * placed->truth.middle_mm.z());
    EXPECT_GT(placed->card.camera_from_card.col(2).dot(placed->truth.camera_from_card.col(2)),
              std::cos(1.0 * std::numbers::pi / 180));
    EXPECT_FALSE(IsBent(placed->card));
    EXPECT_LT(placed->card.misfit_px, 0.3);
  }
}

TEST(CardPlacement, SeesThatACardIsBent) {
  for (const double bend : {4.0, -4.0}) {
    auto options = Options();
    options.card->bend = Length::Millimeters(bend);
    const auto placed = Place(options, 100);
    ASSERT_TRUE(placed.has_value());
    EXPECT_TRUE(IsBent(placed->card));
    EXPECT_NEAR(placed->card.bend_across.value.mm(), bend, 1.2);
  }
}

// So near the lens that only the upper row of markers is in the picture: a bend could be anything.
TEST(CardPlacement, OneRowOfMarkersIsTakenForAFlatCard) {
  for (const int seed : {1, 2, 3}) {
    auto options = Options();
    options.seed = static_cast<std::uint64_t>(seed);
    const auto placed = Place(options, 400);
    ASSERT_TRUE(placed.has_value());
    EXPECT_LE(placed->card.markers, kMarkerColumns);
    EXPECT_FALSE(IsBent(placed->card));
    const Eigen::Vector3d target(kCardTargetX, kCardTargetY, 1);
    EXPECT_NEAR((placed->card.ToCamera(target) - placed->truth.ToCamera(target)).norm(), 0, 0.5);
  }
}

TEST(CardPlacement, TwoMarkersAreNotEnough) {
  PatternView view;
  view.markers = {0, 1};
  EXPECT_FALSE(PlaceCard(view, Options().optics.camera).has_value());
}

TEST(CardPlacement, TheProfileAndThePrintAgreeOnTheTarget) {
  const Eigen::Vector3d target = HeldCardSetup{}.target_in_card_mm;
  EXPECT_EQ(target.x(), kCardTargetX);
  EXPECT_EQ(target.y(), kCardTargetY);
  EXPECT_GE(target.z(), kCardThicknessMm);
}

}  // namespace
}  // namespace nearpoint
