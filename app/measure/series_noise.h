// The noise of an angle measured frame by frame, and least squares under it: independent noise of
// each frame plus a slow wander (a stationary first-order autoregression in continuous time,
// Ornstein-Uhlenbeck), which stands for all that errs for seconds: skin, pose, distance.
#pragma once

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <span>
#include <vector>

namespace nearpoint {

struct SeriesNoise {
  std::vector<double> white_sd;   // of each frame, degrees
  std::vector<double> wander_sd;  // stationary deviation of the wander around each frame, degrees
  double time_constant_s = 3;     // the wander's correlation falls by e in it
};

struct NoiseOptions {
  double white_floor_deg = 0.1;
  double wander_floor_deg = 0.8;
  double wander_cap_deg = 3;
  double time_constant_s = 3;
};

// From the series itself, within a few seconds around each frame: what differs between neighbouring
// frames is independent, what differs over 0.4 s beyond that is wander. By medians, so that one
// drift within the window does not count as noise. reported_sd says which frames are worse than
// others (zeros: all alike); its scale is not believed. residual_deg: the series less its
// expected course.
[[nodiscard]] SeriesNoise EstimateNoise(std::span<const double> time_s,
                                        std::span<const double> residual_deg,
                                        std::span<const double> reported_sd_deg,
                                        const NoiseOptions& options = {});

// Turns a series with such noise into one with independent noise of deviation 1: the innovations of
// the Kalman filter of the wander. Linear, so the shapes looked for go through the same filter.
class Whitener {
 public:
  Whitener() = default;
  // time_s strictly rises.
  Whitener(std::span<const double> time_s, const SeriesNoise& noise);
  // Entries before `first` are taken as zero.
  [[nodiscard]] Eigen::VectorXd Apply(const Eigen::VectorXd& series, Eigen::Index first = 0) const;
  [[nodiscard]] Eigen::Index size() const { return carry_.size(); }

 private:
  Eigen::VectorXd carry_, gain_, inverse_sd_;
};

// Least squares on whitened values with terms (n x k) whose factors have normal priors.
class PriorRegression {
 public:
  PriorRegression(const Whitener& whitener, const Eigen::MatrixXd& terms,
                  const Eigen::VectorXd& prior_mean, const Eigen::VectorXd& prior_sd,
                  const Eigen::VectorXd& values);

  [[nodiscard]] const Eigen::VectorXd& factors() const { return factors_; }
  [[nodiscard]] const Eigen::MatrixXd& covariance() const { return covariance_; }
  // Of the whitened residuals per value: near 1 when the noise is as assumed.
  [[nodiscard]] double chi2_per_frame() const { return chi2_per_frame_; }

  // A further whitened shape, seen beside the terms: its inner products after the terms have taken
  // their share. Adding it with factor x changes the log likelihood by x Data(s) - x^2 Inner(s, s)
  // / 2.
  struct Shape {
    Eigen::VectorXd whitened;
    Eigen::VectorXd in_terms;
    double data = 0;
  };
  [[nodiscard]] Shape Prepare(Eigen::VectorXd whitened) const;
  [[nodiscard]] static double Inner(const Shape& a, const Shape& b) {
    return a.whitened.dot(b.whitened) - a.in_terms.dot(b.in_terms);
  }
  // The same for many shapes, one a column.
  [[nodiscard]] Eigen::MatrixXd Gram(const Eigen::MatrixXd& whitened) const;
  [[nodiscard]] Eigen::VectorXd Data(const Eigen::MatrixXd& whitened) const;

 private:
  Eigen::MatrixXd share_;  // n x k: s' s less (share' s)^2 is what the terms leave of s
  Eigen::VectorXd values_, values_in_terms_, factors_;
  Eigen::MatrixXd covariance_;
  double chi2_per_frame_ = 0;
};

}  // namespace nearpoint
