#include "app/measure/series_noise.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "app/measure/robust.h"

namespace nearpoint {
namespace {

constexpr double kWhiteReachS = 2;      // frames this far to either side tell the independent noise
constexpr double kWanderReachS = 5;     // and this far the wander
constexpr double kNeighbourGapS = 0.2;  // neighbours farther apart say nothing about one frame
constexpr double kLagS = 0.4;           // about the length of a drift
constexpr double kMeanReachS = 0.1;     // the wander is read from means over this to either side
constexpr std::size_t kEnough = 12;     // values for a spread

struct At {
  double time_s = 0;
  double value = 0;
  double variance = 0;  // factor of the white variance in it
};

// The spread of the values within reach of a moment; of all if there are too few.
double SpreadAround(const std::vector<At>& values, double time_s, double reach_s,
                    double* mean_variance) {
  auto begin = std::ranges::lower_bound(values, time_s - reach_s, {}, &At::time_s);
  auto end = std::ranges::upper_bound(values, time_s + reach_s, {}, &At::time_s);
  if (end - begin < static_cast<std::ptrdiff_t>(kEnough)) {
    begin = values.begin();
    end = values.end();
  }
  std::vector<double> near;
  double variance = 0;
  for (auto v = begin; v != end; ++v) {
    near.push_back(v->value);
    variance += v->variance;
  }
  if (mean_variance != nullptr) {
    *mean_variance = near.empty() ? 0 : variance / static_cast<double>(near.size());
  }
  return RobustSpread(near);
}

}  // namespace

SeriesNoise EstimateNoise(std::span<const double> time_s, std::span<const double> residual_deg,
                          std::span<const double> reported_sd_deg, const NoiseOptions& options) {
  const std::size_t n = time_s.size();
  SeriesNoise noise;
  noise.time_constant_s = options.time_constant_s;
  noise.white_sd.assign(n, options.white_floor_deg);
  noise.wander_sd.assign(n, options.wander_floor_deg);
  if (n < 3) return noise;

  // What a frame differs from the line between its neighbours.
  std::vector<At> white;
  for (std::size_t i = 1; i + 1 < n; ++i) {
    const double before = time_s[i] - time_s[i - 1];
    const double after = time_s[i + 1] - time_s[i];
    if (before > kNeighbourGapS || after > kNeighbourGapS) continue;
    const double w = before / (before + after);
    const double off = residual_deg[i] - (1 - w) * residual_deg[i - 1] - w * residual_deg[i + 1];
    const double scale = std::sqrt(1 + w * w + (1 - w) * (1 - w));
    white.push_back({.time_s = time_s[i], .value = off / scale, .variance = 1});
  }
  // Differences of short means.
  std::vector<double> mean(n);
  std::vector<double> inverse_count(n);
  std::size_t from = 0;
  std::size_t to = 0;
  for (std::size_t i = 0; i < n; ++i) {
    while (time_s[from] < time_s[i] - kMeanReachS) ++from;
    while (to < n && time_s[to] <= time_s[i] + kMeanReachS) ++to;
    double sum = 0;
    for (std::size_t k = from; k < to; ++k) sum += residual_deg[k];
    inverse_count[i] = 1 / static_cast<double>(to - from);
    mean[i] = sum * inverse_count[i];
  }
  std::vector<At> wander;
  std::size_t k = 0;
  for (std::size_t i = 0; i < n; ++i) {
    while (k < n && time_s[k] < time_s[i] + kLagS) ++k;
    if (k == n) break;
    if (time_s[k] - time_s[i] > 1.5 * kLagS) continue;
    wander.push_back({.time_s = 0.5 * (time_s[i] + time_s[k]),
                      .value = mean[k] - mean[i],
                      .variance = inverse_count[i] + inverse_count[k]});
  }

  // Means over w, a lag L apart, differ as a random walk does over L - w / 3.
  const double lag_s = kLagS - 2 * kMeanReachS / 3;
  const double turned = 2 * (1 - std::exp(-lag_s / options.time_constant_s));
  // The spreads change slowly, so they are taken every half second.
  double white_sd = 0;
  double wander_sd = 0;
  double usual_sd = 0;
  double taken_at = -1e9;
  for (std::size_t i = 0; i < n; ++i) {
    if (time_s[i] - taken_at > 0.5) {
      taken_at = time_s[i];
      white_sd =
          std::max(options.white_floor_deg, SpreadAround(white, time_s[i], kWhiteReachS, nullptr));
      double white_share = 0;
      const double differs = SpreadAround(wander, time_s[i], kWanderReachS, &white_share);
      const double slow = differs * differs - white_share * white_sd * white_sd;
      wander_sd = std::clamp(std::sqrt(std::max(0.0, slow) / turned), options.wander_floor_deg,
                             options.wander_cap_deg);
      const auto begin = std::ranges::lower_bound(time_s, time_s[i] - kWhiteReachS);
      const auto end = std::ranges::upper_bound(time_s, time_s[i] + kWhiteReachS);
      usual_sd = MedianOf({reported_sd_deg.begin() + (begin - time_s.begin()),
                           reported_sd_deg.begin() + (end - time_s.begin())});
    }
    double relative = 1;
    if (usual_sd > 0) relative = std::clamp(reported_sd_deg[i] / usual_sd, 1.0, 3.0);
    noise.white_sd[i] = white_sd * relative;
    noise.wander_sd[i] = wander_sd;
  }
  return noise;
}

Whitener::Whitener(std::span<const double> time_s, const SeriesNoise& noise) {
  const auto n = static_cast<Eigen::Index>(time_s.size());
  carry_.resize(n);
  gain_.resize(n);
  inverse_sd_.resize(n);
  double variance = 0;  // of the wander, after the frame before
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto at = static_cast<std::size_t>(i);
    const double stationary = noise.wander_sd[at] * noise.wander_sd[at];
    const double carry =
        i == 0 ? 0 : std::exp(-(time_s[at] - time_s[at - 1]) / noise.time_constant_s);
    variance = carry * carry * variance + (1 - carry * carry) * stationary;
    const double total = variance + noise.white_sd[at] * noise.white_sd[at];
    carry_[i] = carry;
    gain_[i] = variance / total;
    inverse_sd_[i] = 1 / std::sqrt(total);
    variance *= 1 - gain_[i];
  }
}

Eigen::VectorXd Whitener::Apply(const Eigen::VectorXd& series, Eigen::Index first) const {
  Eigen::VectorXd out = Eigen::VectorXd::Zero(size());
  double wander = 0;
  for (Eigen::Index i = first; i < size(); ++i) {
    wander *= carry_[i];
    const double innovation = series[i] - wander;
    out[i] = innovation * inverse_sd_[i];
    wander += gain_[i] * innovation;
  }
  return out;
}

PriorRegression::PriorRegression(const Whitener& whitener, const Eigen::MatrixXd& terms,
                                 const Eigen::VectorXd& prior_mean, const Eigen::VectorXd& prior_sd,
                                 const Eigen::VectorXd& values) {
  Eigen::MatrixXd whitened(terms.rows(), terms.cols());
  for (Eigen::Index k = 0; k < terms.cols(); ++k) {
    whitened.col(k) = whitener.Apply(terms.col(k));
  }
  values_ = whitener.Apply(values - terms * prior_mean);
  Eigen::MatrixXd precision = whitened.transpose() * whitened;
  precision.diagonal() += prior_sd.array().square().inverse().matrix();
  const Eigen::LLT<Eigen::MatrixXd> cholesky(precision);
  share_ = cholesky.matrixL().solve(whitened.transpose()).transpose();
  values_in_terms_ = share_.transpose() * values_;
  const Eigen::VectorXd change = cholesky.solve(whitened.transpose() * values_);
  factors_ = prior_mean + change;
  covariance_ = cholesky.solve(Eigen::MatrixXd::Identity(terms.cols(), terms.cols()));
  if (values_.size() > 0) {
    chi2_per_frame_ =
        (values_ - whitened * change).squaredNorm() / static_cast<double>(values_.size());
  }
}

PriorRegression::Shape PriorRegression::Prepare(Eigen::VectorXd whitened) const {
  Shape shape;
  shape.in_terms = share_.transpose() * whitened;
  shape.data = whitened.dot(values_) - shape.in_terms.dot(values_in_terms_);
  shape.whitened = std::move(whitened);
  return shape;
}

Eigen::MatrixXd PriorRegression::Gram(const Eigen::MatrixXd& whitened) const {
  const Eigen::MatrixXd in_terms = share_.transpose() * whitened;
  return whitened.transpose() * whitened - in_terms.transpose() * in_terms;
}

Eigen::VectorXd PriorRegression::Data(const Eigen::MatrixXd& whitened) const {
  const Eigen::MatrixXd in_terms = share_.transpose() * whitened;
  return whitened.transpose() * values_ - in_terms.transpose() * values_in_terms_;
}

}  // namespace nearpoint
