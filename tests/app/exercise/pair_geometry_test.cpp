#include "app/exercise/pair_geometry.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace nearpoint {
namespace {

Length Mm(double mm) { return Length::Millimeters(mm); }

struct Row {
  double p, s, d_screen;         // mm
  double fusion, demand, extra;  // mm, prism dioptres
  double per_pupil, per_screen;  // of the fusion distance
};

// Computed from the triangles by hand, to the digits given.
constexpr Row kRows[] = {
    {64, 30, 427, 290.7, 22.01, 7.03, 1.45, 0.68},
    {54, 30, 427, 274.5, 19.67, 7.03, 1.82, 0.64},
    {64, 60, 427, 220.4, 29.04, 14.05, 1.67, 0.52},
};

TEST(PairGeometry, ComputedTable) {
  for (const Row& r : kRows) {
    EXPECT_NEAR(FusionDistance(Mm(r.p), Mm(r.s), Mm(r.d_screen)).mm(), r.fusion, 0.05);
    EXPECT_NEAR(PairDemand(Mm(r.p), Mm(r.s), Mm(r.d_screen)).value(), r.demand, 0.005);
    EXPECT_NEAR(ExtraDemand(Mm(r.s), Mm(r.d_screen)).value(), r.extra, 0.005);
    const UncertainLength by_pupil =
        FusionDistance({Mm(r.p), Mm(1)}, Mm(r.s), {Mm(r.d_screen), Mm(0)});
    const UncertainLength by_screen =
        FusionDistance({Mm(r.p), Mm(0)}, Mm(r.s), {Mm(r.d_screen), Mm(1)});
    EXPECT_NEAR(by_pupil.sd.mm(), r.per_pupil, 0.005);
    EXPECT_NEAR(by_screen.sd.mm(), r.per_screen, 0.005);
  }
}

// The far plane seen through two pinholes, ray by ray: nothing here uses the formulas under test.
TEST(PairGeometry, AgreesWithRaysThroughTheFixationPoint) {
  for (const double p : {45.0, 54.0, 64.0, 75.0}) {
    for (const double screen : {300.0, 427.0, 700.0}) {
      for (const double fixation : {70.0, 100.0, 200.0, 290.0}) {
        // Right eye at +p/2 (to the person's right), left eye at -p/2; both look at (0, fixation).
        const auto meets = [&](double eye) { return eye + (0 - eye) * screen / fixation; };
        const double right_meets = meets(p / 2);
        const double left_meets = meets(-p / 2);
        // Crossed: the right eye looks at the left figure.
        EXPECT_LT(right_meets, left_meets);
        const Length s = PairSeparation(Mm(p), Mm(fixation), Mm(screen));
        EXPECT_NEAR(s.mm(), left_meets - right_meets, 1e-9 * screen);
        EXPECT_NEAR(FusionDistance(Mm(p), s, Mm(screen)).mm(), fixation, 1e-9 * screen);
        const double angle = 2 * std::atan2(p / 2, fixation);
        EXPECT_NEAR(PairAngle(Mm(p), s, Mm(screen)).rad(), angle, 1e-12);
        EXPECT_NEAR(CrossingDistance(Mm(p), PairAngle(Mm(p), s, Mm(screen))).mm(), fixation,
                    1e-9 * screen);
      }
    }
  }
}

// Common practice, no source: while the eyes fixate near, the background doubles uncrossed, the
// right eye's image to the right.
TEST(PairGeometry, BackgroundDoublesUncrossed) {
  const DoubleImage images = FarImages(Mm(62), Mm(150), Mm(500));
  EXPECT_GT(images.right_eye, Length());
  EXPECT_LT(images.left_eye, Length());
  // The image lies where the eye sees it: right of its line of sight, which meets the plane left of
  // the thing. The right eye at +31 looks at (0, 150) and meets the plane at 31 - 31 * 500 / 150.
  const double meets = 31 - 31 * 500.0 / 150;
  EXPECT_NEAR(images.right_eye.mm(), 0 - meets, 1e-9);
  EXPECT_NEAR((images.right_eye - images.left_eye).mm(),
              PairSeparation(Mm(62), Mm(150), Mm(500)).mm(), 1e-9);
}

// Common practice, no source: as the finger comes nearer the least separated pair fuses first and
// the most separated last.
TEST(PairGeometry, LeastSeparatedFusesFirst) {
  double previous = 1e9;
  for (double s = 0; s <= 300; s += 10) {
    const double d = FusionDistance(Mm(60), Mm(s), Mm(500)).mm();
    EXPECT_LT(d, previous);
    previous = d;
  }
}

TEST(PairGeometry, NoSeparationIsTheScreenItself) {
  EXPECT_DOUBLE_EQ(FusionDistance(Mm(60), Mm(0), Mm(500)).mm(), 500);
  EXPECT_DOUBLE_EQ(PairSeparation(Mm(60), Mm(500), Mm(500)).mm(), 0);
  EXPECT_DOUBLE_EQ(ExtraAngle(Mm(60), Mm(0), Mm(500)).rad(), 0);
}

TEST(PairGeometry, ScalesWithLength) {
  for (const double k : {0.5, 2.0, 10.0}) {
    EXPECT_NEAR(FusionDistance(Mm(60 * k), Mm(80 * k), Mm(500 * k)).mm(),
                k * FusionDistance(Mm(60), Mm(80), Mm(500)).mm(), 1e-9);
    EXPECT_NEAR(PairDemand(Mm(60 * k), Mm(80 * k), Mm(500 * k)).value(),
                PairDemand(Mm(60), Mm(80), Mm(500)).value(), 1e-9);
  }
}

// One prism dioptre is 100 tan(angle): the sum of two tangents is a little less than the tangent of
// the sum, and equal for each eye alone.
TEST(PairGeometry, DemandIsTheSumOfBothEyes) {
  const Angle half = PairAngle(Mm(60), Mm(100), Mm(400)) / 2;
  EXPECT_NEAR(2 * PrismDiopters::FromAngle(half).value(),
              PairDemand(Mm(60), Mm(100), Mm(400)).value(), 1e-12);
}

TEST(PairGeometry, DeviationMatchesFiniteDifferences) {
  const double h = 1e-4;
  const auto at = [](double p, double screen) {
    return FusionDistance(Mm(p), Mm(120), Mm(screen)).mm();
  };
  const double dp = (at(60 + h, 500) - at(60 - h, 500)) / (2 * h);
  const double dd = (at(60, 500 + h) - at(60, 500 - h)) / (2 * h);
  const UncertainLength d = FusionDistance({Mm(60), Mm(2)}, Mm(120), {Mm(500), Mm(5)});
  EXPECT_NEAR(d.sd.mm(), std::hypot(2 * dp, 5 * dd), 1e-6);
}

}  // namespace
}  // namespace nearpoint
