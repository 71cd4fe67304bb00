#include "vision/distance/lens_prior.h"

#include <gmock/gmock.h>

#include <cmath>

namespace nearpoint {
namespace {

double Mean(const LensPrior& prior, int index) { return prior.mean(index - kLensFirst); }
double Sd(const LensPrior& prior, int index) {
  return std::sqrt(prior.covariance(index - kLensFirst, index - kLensFirst));
}

LensPrescription Sphere(double diopters) {
  LensPrescription lens;
  lens.sphere.value = Diopters::Of(diopters);
  return lens;
}

TEST(LensPrior, IsNoLensWhereNoneIsWorn) {
  Glasses off;
  off.worn = false;
  off.left = off.right = Sphere(-4);
  for (const std::optional<Glasses>& glasses : {std::optional<Glasses>(), std::optional(off)}) {
    const LensPrior prior = LensPriorOf(glasses);
    EXPECT_EQ(Mean(prior, kLeftLens), 0);
    for (int k = kLensFirst; k < kPersonalCount; ++k) EXPECT_NEAR(Sd(prior, k), kPinnedSd, 1e-12);
  }
}

TEST(LensPrior, TakesThePowerAlongTheEyeLine) {
  Glasses glasses;
  glasses.worn = true;
  glasses.right = glasses.left = Sphere(-3);
  glasses.left->cylinder.value = Diopters::Of(-2);
  glasses.left->axis = Angle::Degrees(90);
  glasses.right->base_out = PrismDiopters::Of(2);
  const LensPrior prior = LensPriorOf(glasses);
  EXPECT_NEAR(Mean(prior, kRightLens), -3, 1e-12);
  EXPECT_NEAR(Mean(prior, kLeftLens), -5, 1e-12);
  EXPECT_GT(Sd(prior, kLeftLens), Sd(prior, kRightLens));
  EXPECT_NEAR(Sd(prior, kRightLens), std::hypot(0.25, 0.3), 1e-3);
  EXPECT_NEAR(Mean(prior, kRightPrism), 0.02, 1e-12);
}

TEST(LensPrior, IsWideWithoutAPrescriptionAndTheTwoLensesAreAlike) {
  Glasses glasses;
  glasses.worn = true;
  const LensPrior prior = LensPriorOf(glasses);
  EXPECT_NEAR(Sd(prior, kLeftLens), std::hypot(3.5, std::sqrt(0.5)), 1e-3);
  const double difference =
      prior.covariance(0, 0) + prior.covariance(1, 1) - 2 * prior.covariance(0, 1);
  EXPECT_NEAR(std::sqrt(difference), 1.0, 0.01);
  glasses.left = Sphere(-6);
  const LensPrior one = LensPriorOf(glasses);
  EXPECT_NEAR(Mean(one, kRightLens), -6, 1e-12);
  EXPECT_NEAR(Sd(one, kRightLens), 1.07, 0.02);
}

TEST(LensPrior, AReadingAdditionMayBeLookedThroughOrNot) {
  Glasses glasses;
  glasses.worn = true;
  glasses.right = glasses.left = Sphere(-2);
  const double before = Sd(LensPriorOf(glasses), kLeftLens);
  glasses.addition = UncertainPower{Diopters::Of(2), Diopters::Of(0)};
  const LensPrior prior = LensPriorOf(glasses);
  EXPECT_NEAR(Mean(prior, kLeftLens), -1, 1e-12);
  EXPECT_GT(Sd(prior, kLeftLens), before + 0.4);
}

}  // namespace
}  // namespace nearpoint
