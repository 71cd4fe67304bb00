#include "app/exercise/graded_levels.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "app/exercise/pair_geometry.h"
#include "app/measure/convergence.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

Length Mm(double mm) { return Length::Millimeters(mm); }

const PairView kView{{Mm(60), Mm(1.5)}, {Mm(513.5), Mm(5)}};
const PairSurface kScreen{0.2, Mm(340)};
const LevelLimits kLimits{.figure = Mm(36)};

TEST(GradedLevels, WholeDotsAndTheDistanceTheyReallyMake) {
  for (const double asked : {230.0, 200.0, 160.0, 130.0, 100.0, 80.0}) {
    const auto level = MakeLevel(kView, kScreen, kLimits, Mm(asked));
    ASSERT_THAT(level, IsOk());
    EXPECT_DOUBLE_EQ(level->separation.mm(), level->separation_dots * 0.2);
    // From the dots back to the distance, by the triangles.
    const double d = 513.5 * 60 / (60 + level->separation_dots * 0.2) - 13.5;
    EXPECT_NEAR(level->fixation.value.mm(), d, 1e-9);
    // Half a dot at most from what was asked: dd/ds = d / (p + s).
    EXPECT_NEAR(d, asked, 0.1 * (asked + 13.5) / (60 + level->separation.mm()) + 1e-9);
    EXPECT_GT(level->fixation.sd, Mm(1));
    EXPECT_NEAR(level->demand.value(), 100 * 60 / (d + 13.5), 1e-9);
    EXPECT_NEAR(level->extra_demand.value(), 100 * level->separation.mm() / 513.5, 1e-9);
    EXPECT_NEAR(level->extra.deg(), level->angle.deg() - 2 * std::atan(30 / 513.5) * 180 / M_PI,
                1e-9);
  }
}

TEST(GradedLevels, FromFarToNearNumberedOnceEach) {
  const std::vector<Length> asked = {Mm(100), Mm(200), Mm(200.01), Mm(150)};
  const auto graded = MakeLevels(kView, kScreen, kLimits, asked);
  ASSERT_THAT(graded, IsOk());
  ASSERT_THAT(graded->levels, SizeIs(3));
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_EQ(graded->levels[i].number, static_cast<int>(i) + 1);
    if (i > 0) {
      EXPECT_GT(graded->levels[i].separation, graded->levels[i - 1].separation);
      EXPECT_LT(graded->levels[i].fixation.value, graded->levels[i - 1].fixation.value);
      EXPECT_GT(graded->levels[i].demand, graded->levels[i - 1].demand);
    }
  }
}

TEST(GradedLevels, SaysWhatCannotBeShown) {
  const std::vector<Length> asked = {Mm(600), Mm(400), Mm(200), Mm(60), Mm(20)};
  const auto graded = MakeLevels(kView, PairSurface{0.2, Mm(290)}, kLimits, asked);
  ASSERT_THAT(graded, IsOk());
  EXPECT_THAT(graded->levels, SizeIs(1));
  ASSERT_THAT(graded->notes, SizeIs(4));
  EXPECT_THAT(graded->notes[0], HasSubstr("behind the screen, which is 500 mm away"));
  EXPECT_THAT(graded->notes[1], HasSubstr("hardly more than looking at the screen"));
  EXPECT_THAT(graded->notes[2], HasSubstr("of width; there are only 290 mm"));
  EXPECT_THAT(graded->notes[3], HasSubstr("expected at least 42 mm from the eyes"));
}

TEST(GradedLevels, HalvesMayNotOverlapAndDotsMayNotBeCoarse) {
  LevelLimits wide = kLimits;
  wide.figure = Mm(120);
  EXPECT_THAT(MakeLevel(kView, kScreen, wide, Mm(200)),
              FailsWith(ErrorCode::kBadValue, HasSubstr("overlap")));
  EXPECT_THAT(MakeLevel(kView, PairSurface{8, Mm(340)}, kLimits, Mm(200)),
              FailsWith(ErrorCode::kBadValue, HasSubstr("finely")));
}

TEST(GradedLevels, RefusesWhatCannotBe) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  PairView view = kView;
  view.pupils.value = Mm(0);
  EXPECT_THAT(MakeLevel(view, kScreen, kLimits, Mm(200)),
              FailsWith(ErrorCode::kBadValue, HasSubstr("pupil distance")));
  view = kView;
  view.screen.value = Mm(nan);
  EXPECT_THAT(MakeLevel(view, kScreen, kLimits, Mm(200)),
              FailsWith(ErrorCode::kBadValue, HasSubstr("distance to the screen")));
  EXPECT_THAT(MakeLevel(kView, PairSurface{0, Mm(300)}, kLimits, Mm(200)),
              FailsWith(ErrorCode::kBadValue, HasSubstr("dot")));
  EXPECT_THAT(MakeLevel(kView, kScreen, kLimits, Mm(nan)),
              FailsWith(ErrorCode::kBadValue, HasSubstr("too near")));
  EXPECT_THAT(MakeLevels(kView, kScreen, kLimits, {}),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("at least one")));
}

// Every distance it proposes can be shown, the ends use what the screen and the limits allow, and
// the steps of the demand are even.
TEST(GradedLevels, EvenDistancesCanAllBeShown) {
  for (const double p : {46.0, 60.0, 74.0}) {
    for (const double screen : {350.0, 513.5, 800.0}) {
      for (const double width : {190.0, 290.0, 600.0}) {
        const PairView view{{Mm(p), Mm(2)}, {Mm(screen), Mm(6)}};
        const PairSurface surface{0.15, Mm(width)};
        const auto distances = EvenDistances(view, surface, kLimits, 6);
        ASSERT_THAT(distances, SizeIs(6)) << p << ' ' << screen << ' ' << width;
        const auto graded = MakeLevels(view, surface, kLimits, distances);
        ASSERT_THAT(graded, IsOk());
        EXPECT_THAT(graded->notes, IsEmpty());
        ASSERT_THAT(graded->levels, SizeIs(6));
        const double step = (graded->levels[5].demand - graded->levels[0].demand).value() / 5;
        for (std::size_t i = 1; i < 6; ++i) {
          EXPECT_NEAR((graded->levels[i].demand - graded->levels[i - 1].demand).value(), step,
                      200 * 0.15 / screen);
        }
      }
    }
  }
  EXPECT_THAT(EvenDistances(kView, PairSurface{0.2, Mm(60)}, kLimits, 5), IsEmpty());
}

// Check of the size: 1 minute of arc at 400 mm is 0.116 mm (computed).
TEST(GradedLevels, VisibleDetail) {
  const PairView view{{Mm(60), Mm(1)}, {Mm(400), Mm(1)}};
  EXPECT_NEAR(VisibleDetail(view, {0.01, Mm(300)}, Angle::Degrees(1.0 / 60)).mm(), 0.1164, 1e-4);
  EXPECT_NEAR(VisibleDetail(view, {0.25, Mm(300)}, Angle::Degrees(1.0 / 60)).mm(), 0.5, 1e-9);
}

}  // namespace
}  // namespace nearpoint
