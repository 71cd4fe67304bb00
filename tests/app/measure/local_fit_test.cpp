#include "app/measure/local_fit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

namespace nearpoint {
namespace {

// 30 frames a second from 0.5 s before to 0.3 s after, at 15 mm/s toward the eyes.
std::vector<FitPoint> Approach(double noise_sd, unsigned seed, double curve = 0) {
  std::mt19937_64 random(seed);
  std::normal_distribution<> noise;
  std::vector<FitPoint> points;
  for (int i = -15; i <= 9; ++i) {
    const double t = i / 30.0;
    points.push_back({t, 80 - 15 * t + curve * t * t + noise_sd * noise(random), 1});
  }
  return points;
}

TEST(LocalFit, ReturnsAnExactLine) {
  const auto fit = FitLocally(Approach(0, 1));
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->value, 80, 1e-9);
  EXPECT_NEAR(fit->slope, -15, 1e-9);
  EXPECT_EQ(fit->points, 25);
}

TEST(LocalFit, ReturnsAnExactParabola) {
  const auto fit = FitLocally(Approach(0, 1, 30));
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->value, 80, 1e-6);
  EXPECT_NEAR(fit->slope, -15, 1e-6);
}

TEST(LocalFit, StatesItsOwnSpread) {
  // 2000 approaches: the scatter of the value is the deviation it states. A ratio's error here is
  // 1/sqrt(4000).
  double squares = 0, stated = 0, sum = 0;
  constexpr int kCount = 2000;
  for (unsigned seed = 0; seed < kCount; ++seed) {
    const auto fit = FitLocally(Approach(0.8, seed));
    ASSERT_TRUE(fit);
    sum += fit->value - 80;
    squares += (fit->value - 80) * (fit->value - 80);
    stated += fit->value_sd * fit->value_sd;
  }
  EXPECT_NEAR(sum / kCount, 0, 3 * std::sqrt(squares) / kCount);
  // Allowing for residuals that follow each other costs up to a tenth when they do not.
  EXPECT_NEAR(std::sqrt(stated / squares), 1.05, 0.12);
}

TEST(LocalFit, AThirdOfWrongSamplesDoesNotMoveIt) {
  std::vector<FitPoint> points = Approach(0.3, 5);
  for (std::size_t i = 0; i < points.size(); i += 3) points[i].value += 25;
  const auto fit = FitLocally(points);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->value, 80, 0.4);
  EXPECT_NEAR(fit->slope, -15, 1.5);
  EXPECT_LE(fit->points, 17);
}

TEST(LocalFit, FewPointsDoNotLookBetterThanTheySay) {
  const std::vector<FitPoint> points = {{-0.1, 81.5, 2}, {0, 80, 2}, {0.1, 78.5, 2}};
  const auto fit = FitLocally(points);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->value_sd, 2 / std::sqrt(3), 0.01);
}

TEST(LocalFit, TooLittleIsNothing) {
  EXPECT_FALSE(FitLocally({}));
  EXPECT_FALSE(FitLocally(std::vector<FitPoint>{{0, 80, 1}, {1, 70, 1}}));
  EXPECT_FALSE(FitLocally(std::vector<FitPoint>{{0, 80, 1}, {0, 70, 1}, {0, 75, 1}}));
}

}  // namespace
}  // namespace nearpoint
