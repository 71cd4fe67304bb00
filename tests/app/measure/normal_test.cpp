#include "app/measure/normal.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/app/measure/steps.h"

namespace nearpoint {
namespace {

TEST(Normal, KnownValues) {
  // Abramowitz & Stegun, Handbook of Mathematical Functions, tables 26.1 and 26.5.
  EXPECT_NEAR(NormalCdf(1), 0.841344746068543, 1e-14);
  EXPECT_NEAR(NormalCdf(-2), 0.022750131948179, 1e-14);
  EXPECT_NEAR(NormalPdf(0), 0.398942280401433, 1e-14);
  EXPECT_NEAR(NormalQuantile(0.975), 1.959963984540054, 1e-13);
  EXPECT_NEAR(NormalQuantile(0.995), 2.575829303548901, 1e-13);
}

TEST(Normal, QuantileInvertsTheDistribution) {
  for (const double place : Steps(-27, 0, 0.1)) {
    const double p = std::exp(place);  // from 2e-12 up
    EXPECT_NEAR(NormalCdf(NormalQuantile(p)) / p, 1, 1e-12) << p;
    // 1 - p rounds, so the mirror is exact only to the rounding divided by the density.
    EXPECT_NEAR(NormalQuantile(p), -NormalQuantile(1 - p), 1e-15 / NormalPdf(NormalQuantile(p)));
  }
}

TEST(Normal, FarTailKeepsItsLogarithm) {
  // Both sides of the switch to the continued fraction, and where the value itself is zero.
  EXPECT_NEAR(LogNormalCdf(-24.999), std::log(NormalCdf(-24.999)), 1e-10);
  EXPECT_NEAR(LogNormalCdf(-25.001), std::log(NormalCdf(-25.001)), 1e-10);
  EXPECT_NEAR(InverseMills(-25.0001), InverseMills(-24.9999), 1e-3);
  EXPECT_TRUE(std::isfinite(LogNormalCdf(-1e4)));
  // Mills' ratio far out is z itself (computed: z + 1/z).
  EXPECT_NEAR(InverseMills(-1000), 1000.001, 1e-6);
  EXPECT_EQ(InverseMills(50), 0);
}

TEST(Normal, OutsideTheUnitIntervalIsInfinite) {
  EXPECT_EQ(NormalQuantile(0), -INFINITY);
  EXPECT_EQ(NormalQuantile(1), INFINITY);
}

}  // namespace
}  // namespace nearpoint
