#include "app/measure/posterior.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "app/measure/bound_prior.h"
#include "app/measure/normal.h"
#include "app/measure/student_t.h"
#include "tests/app/measure/steps.h"

namespace nearpoint {
namespace {

constexpr double kZ = 1.959963984540054;

std::vector<Observation> Mixed() {
  return {{62, 1, -1.5, Censoring::kNone},
          {50, 0, -0.5, Censoring::kBelow},
          {71, 2, 0.5, Censoring::kNone},
          {55, 0, 1.5, Censoring::kBelow}};
}

TEST(Posterior, WithAKnownSpreadItIsTheNormalOfTheMean) {
  const std::vector<Observation> observations = {{60, 0, -1}, {70, 0, 0}, {86, 0, 1}};
  const PosteriorOptions options{.spread = {.median_mm = 9, .log_sd = 1e-6}, .slope_sd = 0};
  const Posterior posterior = IntegratePosterior(observations, options);
  EXPECT_NEAR(posterior.mean.Quantile(0.5), 72, 1e-6);
  EXPECT_NEAR(posterior.mean.Quantile(0.975), 72 + kZ * 9 / std::sqrt(3), 1e-4);
  EXPECT_NEAR(posterior.between_sd_median, 9, 1e-4);
  EXPECT_TRUE(posterior.slope.empty());
}

TEST(Posterior, WithAKnownSpreadTheSlopeIsPulledByItsPrior) {
  // Normal data, normal prior: precision 2 / 81 of the data and 1 / 9 of the prior, data slope (86
  // - 60) / 2.
  const std::vector<Observation> observations = {{60, 0, -1}, {70, 0, 0}, {86, 0, 1}};
  const PosteriorOptions options{.spread = {.median_mm = 9, .log_sd = 1e-6}, .slope_sd = 3};
  const Posterior posterior = IntegratePosterior(observations, options);
  const double precision = 2.0 / 81 + 1.0 / 9;
  EXPECT_NEAR(posterior.slope.Quantile(0.5), 13 * (2.0 / 81) / precision, 1e-5);
  EXPECT_NEAR(posterior.slope.variance(), 1 / precision, 1e-4);
}

// The plain sum over a fine box of mean, slope and log tau, in the formula of the header.
TEST(Posterior, AgreesWithBruteForce) {
  const std::vector<Observation> observations = Mixed();
  const PosteriorOptions options;
  double total = 0, below = 0, mean_sum = 0, slope_sum = 0;
  const Posterior posterior = IntegratePosterior(observations, options);
  const double low_end = posterior.mean.Quantile(0.025);
  constexpr double kMeanStep = 0.5;
  for (const double log_tau : Steps(-2.5, 2.6, 0.125)) {
    const double tau = options.spread.median_mm * std::exp(log_tau);
    const double prior = -0.5 * std::pow(log_tau / options.spread.log_sd, 2);
    for (const double slope : Steps(-13.5, 13.6, 0.75)) {
      for (const double mean : Steps(-120, 160.1, kMeanStep)) {
        // Both values lie beyond the usual bound of 52.5 mm, so every trial could have been cut by
        // it.
        const double reference = std::sqrt(InformationOfMean((52.5 - mean) / tau));
        const double mass =
            reference * std::exp(EvaluateLikelihood(observations, mean, slope, tau).log + prior -
                                 0.5 * std::pow(slope / options.slope_sd, 2));
        total += mass;
        mean_sum += mass * mean;
        slope_sum += mass * slope;
        // A cell's mass lies evenly about its point.
        below += mass * std::clamp((low_end - mean) / kMeanStep + 0.5, 0.0, 1.0);
      }
    }
  }
  EXPECT_NEAR(below / total, 0.025, 2e-4);
  EXPECT_NEAR(posterior.mean.mean(), mean_sum / total, 0.02);
  EXPECT_NEAR(posterior.slope.mean(), slope_sum / total, 0.005);
}

TEST(Posterior, ABoundThatSaysNothingChangesNothing) {
  // One bound far off turns the exact formula into the tabulated integral; both must agree.
  std::vector<Observation> observations = {{60, 1, -1}, {70, 2, 0}, {86, 1, 1}};
  const Posterior exact = IntegratePosterior(observations);
  observations.push_back({5000, 0, 0, Censoring::kBelow});
  const Posterior tabulated = IntegratePosterior(observations);
  for (const double p : {0.025, 0.25, 0.5, 0.975}) {
    EXPECT_NEAR(exact.mean.Quantile(p), tabulated.mean.Quantile(p), 2e-3) << p;
    EXPECT_NEAR(exact.slope.Quantile(p), tabulated.slope.Quantile(p), 2e-3) << p;
  }
  EXPECT_NEAR(exact.between_sd_median, tabulated.between_sd_median, 1e-3);
}

TEST(Posterior, ManyTrialsOverruleThePrior) {
  std::vector<Observation> observations;
  double sum = 0, squares = 0;
  constexpr int kCount = 400;
  for (int i = 0; i < kCount; ++i) {
    const double value = 80 + 3 * std::sin(i * 2.399963);  // spread evenly in phase
    observations.push_back({value, 0, 0});
    sum += value;
    squares += value * value;
  }
  const double mean = sum / kCount;
  const double sd = std::sqrt((squares - sum * mean) / (kCount - 1));
  const Posterior posterior = IntegratePosterior(observations, {.spread = {}, .slope_sd = 0});
  const TInterval plain = MeanTInterval(mean, sd, kCount, 0.95);
  EXPECT_NEAR(posterior.mean.Quantile(0.025), plain.low, 0.01);
  EXPECT_NEAR(posterior.between_sd_median, sd, 0.03 * sd);
}

TEST(Posterior, MirroredDataGiveAMirroredAnswer) {
  std::vector<Observation> mirrored = Mixed();
  for (Observation& o : mirrored) {
    o.value = 200 - o.value;
    if (o.censoring == Censoring::kBelow) o.censoring = Censoring::kAbove;
  }
  const Posterior a = IntegratePosterior(Mixed());
  const Posterior b = IntegratePosterior(mirrored);
  EXPECT_NEAR(a.mean.Quantile(0.1), 200 - b.mean.Quantile(0.9), 1e-6);
  EXPECT_NEAR(a.slope.Quantile(0.1), -b.slope.Quantile(0.9), 1e-6);
}

// The expected squares and products of the scores, by a plain sum over the seen part and one term
// for the rest.
TEST(BoundPrior, IsTheInformationOfACensoredNormal) {
  for (const double z : {-4.0, -1.0, 0.0, 0.7, 1.5, 3.0}) {
    const double mills = InverseMills(z);
    double mean_mean = mills * mills * NormalCdf(z);
    double mean_spread = z * mean_mean;
    double spread_spread = z * mean_spread;
    constexpr double kStep = 1e-4;
    for (const double x : Steps(z + kStep / 2, 9, kStep)) {
      const double mass = NormalPdf(x) * kStep;
      mean_mean += mass * x * x;
      mean_spread += mass * x * (x * x - 1);
      spread_spread += mass * (x * x - 1) * (x * x - 1);
    }
    EXPECT_NEAR(InformationOfMean(z), mean_mean - mean_spread * mean_spread / spread_spread, 1e-6)
        << z;
  }
}

TEST(BoundPrior, FallsFromOneToNothing) {
  EXPECT_NEAR(InformationOfMean(-40), 1, 1e-12);
  double previous = 1;
  for (const double z : Steps(-6, 8, 0.1)) {
    EXPECT_LE(InformationOfMean(z), previous + 1e-12) << z;
    EXPECT_GE(InformationOfMean(z), 0) << z;
    previous = InformationOfMean(z);
  }
}

TEST(Bounds, OneBoundWithAKnownSpreadIsTheNormalLimit) {
  const std::vector<Observation> one = {{50, 0, 0, Censoring::kBelow}};
  EXPECT_NEAR(LimitFromBounds(one, 0.025, {.median_mm = 8, .log_sd = 1e-9}), 50 + kZ * 8, 1e-4);
  const std::vector<Observation> above = {{300, 0, 0, Censoring::kAbove}};
  EXPECT_NEAR(LimitFromBounds(above, 0.025, {.median_mm = 8, .log_sd = 1e-9}), 300 - kZ * 8, 1e-4);
}

TEST(Bounds, MoreBoundsComeCloser) {
  std::vector<Observation> bounds;
  double previous = INFINITY;
  for (int n = 1; n <= 6; ++n) {
    bounds.push_back({50, 0, 0, Censoring::kBelow});
    const double limit = LimitFromBounds(bounds, 0.025);
    EXPECT_LT(limit, previous);
    previous = limit;
    EXPECT_NEAR(ChanceOfBounds(bounds, limit), 0.025, 1e-5);
  }
}

}  // namespace
}  // namespace nearpoint
