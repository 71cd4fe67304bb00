#include "app/measure/convergence.h"

#include <gtest/gtest.h>

#include "tests/app/measure/steps.h"

namespace nearpoint {
namespace {

Length Mm(double mm) { return Length::Millimeters(mm); }

struct Row {
  double pd, x, k, demand, metre_angles, degrees;
};

TEST(Convergence, WorkedNumbers) {
  // Computed from the formulas, two decimals: a book at 40 cm, the adult limit from two planes, a
  // child's limit.
  for (const Row& r :
       {Row{64, 400, 27, 14.99, 2.34, 8.57}, Row{64, 50, 27, 83.12, 12.99, 45.13},
        Row{64, 50, 13.5, 100.79, 15.75, 53.49}, Row{54, 60, 27, 62.07, 11.49, 34.48}}) {
    EXPECT_NEAR(ConvergenceDemand(Mm(r.pd), Mm(r.x), Mm(r.k)).value(), r.demand, 0.005);
    EXPECT_NEAR(MetreAngles(Mm(r.x), Mm(r.k)), r.metre_angles, 0.005);
    EXPECT_NEAR(ConvergenceAngle(Mm(r.pd), Mm(r.x), Mm(r.k)).deg(), r.degrees, 0.005);
  }
}

TEST(Convergence, SensitivityAtSixCentimetres) {
  // Computed: 1 mm is 0.85 prism dioptres.
  EXPECT_NEAR(DemandPerMillimeter(Mm(64), Mm(60), kSpectacleToRotation).value(), -0.85, 0.005);
  const double step = (ConvergenceDemand(Mm(64), Mm(60.001), kSpectacleToRotation) -
                       ConvergenceDemand(Mm(64), Mm(59.999), kSpectacleToRotation))
                          .value() /
                      0.002;
  EXPECT_NEAR(DemandPerMillimeter(Mm(64), Mm(60), kSpectacleToRotation).value(), step, 1e-6);
}

TEST(Convergence, TheTwoPlanesAreOneTarget) {
  // The cornea lies 13.5 mm behind the spectacle plane, so 50 mm from the one is 63.5 mm from the
  // other.
  const double spectacle = ConvergenceDemand(Mm(64), Mm(50), kSpectacleToRotation).value();
  EXPECT_NEAR(ConvergenceDemand(Mm(64), Mm(63.5), kCorneaToRotation).value(), spectacle, 1e-12);
}

TEST(Convergence, DistanceOfDemandIsTheInverse) {
  for (const double x : Steps(20, 1000, 61)) {
    const PrismDiopters demand = ConvergenceDemand(Mm(61), Mm(x), kCorneaToRotation);
    EXPECT_NEAR(DistanceOfDemand(Mm(61), demand, kCorneaToRotation).mm(), x, 1e-9);
  }
}

TEST(Convergence, AMetreAwayIsThePupilDistanceInCentimetres) {
  // One metre angle times the pupil distance in centimetres is the demand in prism dioptres.
  EXPECT_NEAR(ConvergenceDemand(Mm(64), Mm(973), kSpectacleToRotation).value(), 6.4, 1e-12);
}

}  // namespace
}  // namespace nearpoint
