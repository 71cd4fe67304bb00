#include "app/measure/series_noise.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <random>
#include <vector>

namespace nearpoint {
namespace {

std::vector<double> Times(int count, double step_s) {
  std::vector<double> time_s;
  time_s.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) time_s.push_back(i * step_s);
  return time_s;
}

std::vector<double> Simulate(const std::vector<double>& time_s, double white, double wander,
                             double constant_s, std::mt19937_64& random) {
  std::normal_distribution<> normal;
  std::vector<double> out;
  double state = wander * normal(random);
  for (std::size_t i = 0; i < time_s.size(); ++i) {
    if (i > 0) {
      const double carry = std::exp(-(time_s[i] - time_s[i - 1]) / constant_s);
      state = carry * state + wander * std::sqrt(1 - carry * carry) * normal(random);
    }
    out.push_back(state + white * normal(random));
  }
  return out;
}

// Times with gaps, and frames that differ in quality.
struct Uneven {
  std::vector<double> time_s = {0, 0.03, 0.07, 0.1, 0.6, 0.63, 0.7, 1.9, 2, 2.03};
  SeriesNoise noise{.white_sd = {0.4, 0.4, 1, 0.4, 0.4, 0.3, 0.4, 0.4, 2, 0.4},
                    .wander_sd = std::vector<double>(10, 1.2),
                    .time_constant_s = 3};
  [[nodiscard]] Eigen::MatrixXd Covariance() const {
    Eigen::MatrixXd c(10, 10);
    for (int i = 0; i < 10; ++i) {
      for (int k = 0; k < 10; ++k) {
        const auto a = static_cast<std::size_t>(i);
        const auto b = static_cast<std::size_t>(k);
        c(i, k) = 1.2 * 1.2 * std::exp(-std::abs(time_s[a] - time_s[b]) / 3);
        if (i == k) c(i, k) += noise.white_sd[a] * noise.white_sd[a];
      }
    }
    return c;
  }
};

TEST(Whitener, GivesTheInnerProductsOfTheFullCovariance) {
  // a' C^-1 b by a dense solve, against the filter.
  const Uneven u;
  const Whitener whitener(u.time_s, u.noise);
  const Eigen::VectorXd a = Eigen::VectorXd::LinSpaced(10, -1, 3);
  Eigen::VectorXd b(10);
  b << 0, 0, 0, 1, 2, 2, -3, 2, 2, 5;
  const double dense = a.dot(u.Covariance().llt().solve(b));
  EXPECT_NEAR(whitener.Apply(a).dot(whitener.Apply(b)), dense, 1e-10 * std::abs(dense));
  // Leading zeros may be skipped.
  EXPECT_LT((whitener.Apply(b) - whitener.Apply(b, 3)).norm(), 1e-14);
}

TEST(PriorRegression, IsGeneralisedLeastSquaresWithPriors) {
  const Uneven u;
  Eigen::MatrixXd terms(10, 2);
  terms.col(0).setOnes();
  terms.col(1) = Eigen::VectorXd::LinSpaced(10, 5, 30);
  Eigen::VectorXd values(10);
  values << 1, 2, 2, 3, 7, 8, 8, 9, 12, 11;
  const Eigen::Vector2d mean(0.5, 0.2);
  const Eigen::Vector2d sd(2, 0.1);
  const PriorRegression fit(Whitener(u.time_s, u.noise), terms, mean, sd, values);

  const Eigen::MatrixXd inverse = u.Covariance().inverse();
  const Eigen::Matrix2d prior = sd.array().square().inverse().matrix().asDiagonal();
  const Eigen::Matrix2d precision = terms.transpose() * inverse * terms + prior;
  const Eigen::Vector2d expected =
      precision.inverse() * (terms.transpose() * inverse * values + prior * mean);
  EXPECT_LT((fit.factors() - expected).norm(), 1e-9);
  EXPECT_LT((fit.covariance() - precision.inverse()).norm(), 1e-9);
}

TEST(PriorRegression, AShapeSeesWhatTheTermsLeave) {
  // With the terms integrated out the covariance is C + T P T'.
  const Uneven u;
  Eigen::MatrixXd terms(10, 2);
  terms.col(0).setOnes();
  terms.col(1) = Eigen::VectorXd::LinSpaced(10, 5, 30);
  Eigen::VectorXd values(10);
  values << 1, 2, 2, 3, 7, 8, 8, 9, 12, 11;
  Eigen::VectorXd step(10);
  step << 0, 0, 0, 0, 0, 0.5, 1, 1, 1, 1;
  const Eigen::Vector2d sd(6, 0.15);
  const Whitener whitener(u.time_s, u.noise);
  const PriorRegression fit(whitener, terms, Eigen::Vector2d::Zero(), sd, values);
  const auto shape = fit.Prepare(whitener.Apply(step));

  const Eigen::Matrix2d prior = sd.array().square().matrix().asDiagonal();
  const Eigen::MatrixXd marginal = u.Covariance() + terms * prior * terms.transpose();
  const double inner = step.dot(marginal.llt().solve(step));
  const double data = step.dot(marginal.llt().solve(values));
  EXPECT_NEAR(PriorRegression::Inner(shape, shape), inner, 1e-8 * inner);
  EXPECT_NEAR(shape.data, data, 1e-8 * std::abs(data));
  EXPECT_NEAR(fit.Gram(whitener.Apply(step))(0, 0), inner, 1e-8 * inner);
  EXPECT_NEAR(fit.Data(whitener.Apply(step))[0], data, 1e-8 * std::abs(data));
}

TEST(EstimateNoise, FindsBothPartsOfSimulatedNoise) {
  std::mt19937_64 random(3);
  const auto time_s = Times(1800, 1 / 30.0);
  const std::vector<double> reported(time_s.size(), 1.0);
  double white = 0;
  double wander = 0;
  constexpr int kSeries = 20;
  for (int k = 0; k < kSeries; ++k) {
    const SeriesNoise noise =
        EstimateNoise(time_s, Simulate(time_s, 0.4, 1.5, 3, random), reported);
    for (std::size_t i = 0; i < time_s.size(); ++i) {
      white += noise.white_sd[i] / static_cast<double>(time_s.size() * kSeries);
      wander += noise.wander_sd[i] / static_cast<double>(time_s.size() * kSeries);
    }
  }
  EXPECT_NEAR(white, 0.4, 0.03);
  EXPECT_NEAR(wander, 1.5, 0.2);
}

TEST(EstimateNoise, OneDriftIsNotNoise) {
  std::mt19937_64 random(4);
  const auto time_s = Times(900, 1 / 30.0);
  const std::vector<double> reported(time_s.size(), 0.0);
  auto values = Simulate(time_s, 0.3, 0.5, 3, random);
  const SeriesNoise before = EstimateNoise(time_s, values, reported);
  for (std::size_t i = 0; i < values.size(); ++i) {
    values[i] -= 8 * std::clamp((time_s[i] - 15) / 0.35, 0.0, 1.0);
  }
  const SeriesNoise after = EstimateNoise(time_s, values, reported);
  EXPECT_LT(after.white_sd[450], 1.3 * before.white_sd[450]);
  EXPECT_LT(after.wander_sd[450], 1.6 * before.wander_sd[450]);
}

TEST(EstimateNoise, FramesThatCallThemselvesWorseCountLess) {
  std::mt19937_64 random(5);
  const auto time_s = Times(300, 1 / 30.0);
  std::vector<double> reported(time_s.size(), 0.5);
  reported[100] = 1.0;
  reported[200] = 50;
  const SeriesNoise noise = EstimateNoise(time_s, Simulate(time_s, 0.4, 1, 3, random), reported);
  EXPECT_NEAR(noise.white_sd[100], 2 * noise.white_sd[101], 0.3);
  EXPECT_NEAR(noise.white_sd[200], 3 * noise.white_sd[201], 0.4);  // at most three times
}

TEST(EstimateNoise, TwoFramesGetTheFloor) {
  const std::vector<double> time_s = {0, 1};
  const std::vector<double> zero = {0, 0};
  const SeriesNoise noise = EstimateNoise(time_s, zero, zero);
  EXPECT_EQ(noise.white_sd, (std::vector<double>{0.1, 0.1}));
}

}  // namespace
}  // namespace nearpoint
