#include "app/measure/robust.h"

#include <gtest/gtest.h>

#include <random>
#include <vector>

namespace nearpoint {
namespace {

TEST(Robust, MedianOfOddAndEvenCounts) {
  EXPECT_EQ(MedianOf({3, 1, 2}), 2);
  EXPECT_EQ(MedianOf({4, 1, 3, 2}), 2.5);
  EXPECT_EQ(MedianOf({7}), 7);
}

TEST(Robust, SpreadIsTheDeviationOfNormalValuesWhateverATenthOfThemDoes) {
  std::mt19937_64 random(1);
  std::normal_distribution<> normal(5, 2);
  std::vector<double> values;
  values.reserve(20000);
  for (int i = 0; i < 20000; ++i) values.push_back(normal(random));
  EXPECT_NEAR(RobustSpread(values), 2, 0.05);
  for (int i = 0; i < 2000; ++i) values[static_cast<std::size_t>(i)] = 1e6;
  EXPECT_LT(RobustSpread(values), 2.5);
  EXPECT_EQ(RobustSpread({}), 0);
}

TEST(Robust, ResidualsShowAFifthOfWrongValuesInFull) {
  Eigen::MatrixXd terms(100, 2);
  Eigen::VectorXd values(100);
  std::mt19937_64 random(2);
  std::normal_distribution<> normal(0, 0.1);
  for (int i = 0; i < 100; ++i) {
    terms.row(i) << 1, i;
    values[i] = 3 - 0.5 * i + normal(random) + (i >= 70 && i < 90 ? 20 : 0);
  }
  const Eigen::VectorXd residuals = RobustResiduals(terms, values);
  for (int i = 0; i < 100; ++i) {
    EXPECT_NEAR(residuals[i], i >= 70 && i < 90 ? 20 : 0, 0.5) << i;
  }
}

TEST(Robust, ATermThatNeverChangesIsHarmless) {
  Eigen::MatrixXd terms = Eigen::MatrixXd::Ones(50, 2);
  terms.col(1).setZero();
  const Eigen::VectorXd residuals = RobustResiduals(terms, Eigen::VectorXd::Constant(50, 4));
  EXPECT_LT(residuals.cwiseAbs().maxCoeff(), 1e-3);
}

}  // namespace
}  // namespace nearpoint
