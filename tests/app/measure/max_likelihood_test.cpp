#include "app/measure/max_likelihood.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace nearpoint {
namespace {

// EPA QA/G-9, the worked example of Cohen's method: 24 values, 3 of them below 1450.
constexpr double kEpa[] = {1850, 1760, 1710, 1575, 1475, 1780, 1790, 1780, 1790, 1800, 1800,
                           1840, 1820, 1860, 1780, 1760, 1800, 1900, 1770, 1790, 1780};

std::vector<Observation> Epa(double sign) {
  std::vector<Observation> observations;
  for (const double value : kEpa) observations.push_back({sign * value, 0, 0, Censoring::kNone});
  for (int i = 0; i < 3; ++i) {
    observations.push_back({sign * 1450, 0, 0, sign > 0 ? Censoring::kBelow : Censoring::kAbove});
  }
  return observations;
}

TEST(MaximumLikelihood, CensoredBelowEpaExample) {
  const MaximumLikelihood fit = FitMaximumLikelihood(Epa(1));
  // Computed; Cohen's table gives about 1723.7 and 155.3.
  EXPECT_NEAR(fit.mean, 1723.995, 5e-4);
  EXPECT_NEAR(fit.between_sd, 153.645, 5e-4);
  EXPECT_NEAR(fit.log_likelihood, -139.5553, 5e-5);
}

TEST(MaximumLikelihood, CensoredAboveIsItsMirror) {
  const MaximumLikelihood fit = FitMaximumLikelihood(Epa(-1));
  EXPECT_NEAR(fit.mean, -1723.995, 5e-4);
  EXPECT_NEAR(fit.between_sd, 153.645, 5e-4);
  EXPECT_NEAR(fit.log_likelihood, -139.5553, 5e-5);
}

TEST(MaximumLikelihood, CohensLambda) {
  // Cohen, Technometrics 1961;3:535-541, table of lambda at gamma = 0: with the seen values all at
  // 1 and the share h below 0, the mean is 1 - lambda and the variance lambda.
  struct Row {
    int below, seen;
    double lambda;
    double digit;
  };
  for (const Row& row :
       {Row{1, 9, 0.11020, 5e-6}, Row{2, 8, 0.24268, 5e-6}, Row{5, 5, 0.8368, 5e-5}}) {
    std::vector<Observation> observations(static_cast<std::size_t>(row.seen),
                                          {1, 0, 0, Censoring::kNone});
    observations.insert(observations.end(), static_cast<std::size_t>(row.below),
                        {0, 0, 0, Censoring::kBelow});
    const MaximumLikelihood fit = FitMaximumLikelihood(observations);
    EXPECT_NEAR(fit.mean, 1 - row.lambda, 2 * row.digit) << row.below;
    EXPECT_NEAR(fit.between_sd * fit.between_sd, row.lambda, 2 * row.digit) << row.below;
  }
}

TEST(MaximumLikelihood, WithoutBoundsItIsTheMeanAndTheDivisorN) {
  const std::vector<Observation> observations = {{60, 0, 0}, {70, 0, 0}, {86, 0, 0}};
  const MaximumLikelihood fit = FitMaximumLikelihood(observations);
  EXPECT_NEAR(fit.mean, 72, 1e-9);
  EXPECT_NEAR(fit.between_sd, std::sqrt((144 + 4 + 196) / 3.0), 1e-6);
  const MaximumLikelihood restricted =
      FitMaximumLikelihood(observations, SpreadMethod::kRestricted);
  EXPECT_NEAR(restricted.between_sd, std::sqrt((144 + 4 + 196) / 2.0), 1e-6);
}

TEST(MaximumLikelihood, ScalesAndShiftsWithTheData) {
  std::vector<Observation> observations = Epa(1);
  const MaximumLikelihood fit = FitMaximumLikelihood(observations);
  for (Observation& o : observations) o.value = 0.05 * o.value + 7;
  const MaximumLikelihood moved = FitMaximumLikelihood(observations);
  EXPECT_NEAR(moved.mean, 0.05 * fit.mean + 7, 1e-5);
  EXPECT_NEAR(moved.between_sd, 0.05 * fit.between_sd, 1e-5);
}

TEST(Likelihood, DerivativesAreThoseOfDifferences) {
  const std::vector<Observation> observations = {{60, 2, -1, Censoring::kNone},
                                                 {50, 1, 0, Censoring::kBelow},
                                                 {90, 0, 1, Censoring::kAbove},
                                                 {74, 4, 2, Censoring::kNone}};
  constexpr double kStep = 1e-4;
  const double mean = 66;
  const double slope = 1.5;
  const double tau = 7;
  const auto at = [&](double dm, double ds) {
    return EvaluateLikelihood(observations, mean + dm, slope + ds, tau);
  };
  const LikelihoodTerms here = at(0, 0);
  EXPECT_NEAR(here.grad_mean, (at(kStep, 0).log - at(-kStep, 0).log) / (2 * kStep), 1e-7);
  EXPECT_NEAR(here.grad_slope, (at(0, kStep).log - at(0, -kStep).log) / (2 * kStep), 1e-7);
  EXPECT_NEAR(here.info_mean, -(at(kStep, 0).grad_mean - at(-kStep, 0).grad_mean) / (2 * kStep),
              1e-7);
  EXPECT_NEAR(here.info_slope, -(at(0, kStep).grad_slope - at(0, -kStep).grad_slope) / (2 * kStep),
              1e-7);
  EXPECT_NEAR(here.info_cross, -(at(0, kStep).grad_mean - at(0, -kStep).grad_mean) / (2 * kStep),
              1e-7);
}

}  // namespace
}  // namespace nearpoint
