// Medians, spreads and fits that a minority of wrong values cannot move.
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

namespace nearpoint {

// The median; the mean of the middle two for an even count. Not empty.
[[nodiscard]] double MedianOf(std::vector<double> values);

// 1.4826 times the median absolute deviation from the median: the standard deviation of a normal
// distribution. 0 when empty.
[[nodiscard]] double RobustSpread(std::span<const double> values);

// values (n) less their best combination of the columns of terms (n x k), by bisquare reweighting
// (tuning 4.685, Mosteller & Tukey 1977) from a least-absolute start. More rows than columns.
[[nodiscard]] Eigen::VectorXd RobustResiduals(const Eigen::MatrixXd& terms,
                                              const Eigen::VectorXd& values);

}  // namespace nearpoint
