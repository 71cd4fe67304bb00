#include "app/measure/robust.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace nearpoint {
namespace {

constexpr double kMadToSd = 1.4826;
constexpr double kBisquare = 4.685;
constexpr int kAbsoluteSteps = 15;
constexpr int kBisquareSteps = 10;
constexpr double kRidge = 1e-6;  // of the mean diagonal: a column that never changes gets no say

Eigen::VectorXd WeightedResiduals(const Eigen::MatrixXd& terms, const Eigen::VectorXd& values,
                                  const Eigen::VectorXd& weights) {
  Eigen::MatrixXd normal = terms.transpose() * weights.asDiagonal() * terms;
  const double ridge = kRidge * normal.trace() / static_cast<double>(normal.rows());
  normal.diagonal().array() += std::max(ridge, 1e-12);
  const Eigen::VectorXd right = terms.transpose() * (weights.asDiagonal() * values);
  return values - terms * normal.ldlt().solve(right);
}

double SpreadOf(const Eigen::VectorXd& residuals) {
  return RobustSpread({residuals.data(), static_cast<std::size_t>(residuals.size())});
}

}  // namespace

double MedianOf(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  if (values.size() % 2 == 1) return *middle;
  return 0.5 * (*middle + *std::max_element(values.begin(), middle));
}

double RobustSpread(std::span<const double> values) {
  if (values.empty()) return 0;
  std::vector<double> off(values.begin(), values.end());
  const double centre = MedianOf(off);
  for (double& v : off) v = std::abs(v - centre);
  return kMadToSd * MedianOf(std::move(off));
}

Eigen::VectorXd RobustResiduals(const Eigen::MatrixXd& terms, const Eigen::VectorXd& values) {
  Eigen::VectorXd residuals =
      WeightedResiduals(terms, values, Eigen::VectorXd::Ones(values.size()));
  for (int step = 0; step < kAbsoluteSteps; ++step) {
    const double least = std::max(0.1 * SpreadOf(residuals), 1e-9);
    const Eigen::VectorXd weights = residuals.cwiseAbs().cwiseMax(least).cwiseInverse();
    residuals = WeightedResiduals(terms, values, weights);
  }
  for (int step = 0; step < kBisquareSteps; ++step) {
    const double scale = std::max(SpreadOf(residuals), 1e-9);
    const Eigen::VectorXd weights = residuals.unaryExpr([scale](double r) {
      const double u = r / (kBisquare * scale);
      return std::abs(u) < 1 ? (1 - u * u) * (1 - u * u) : 0.0;
    });
    if (weights.sum() <= static_cast<double>(terms.cols())) break;
    residuals = WeightedResiduals(terms, values, weights);
  }
  return residuals;
}

}  // namespace nearpoint
