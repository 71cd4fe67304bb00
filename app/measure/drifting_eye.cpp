#include "app/measure/drifting_eye.h"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>
#include <vector>

#include "app/measure/robust.h"
#include "app/measure/series_noise.h"

namespace nearpoint {
namespace {

constexpr double kDegPerTangent = 180 / std::numbers::pi;
constexpr double kNearEventS = 1;
// Of the error that the tracker states for one eye, the part that may come and go with the drift.
constexpr double kStatedInChange = 0.5;
constexpr double kSettles = 0.15;  // how far the eye may settle elsewhere, of the drift's size
constexpr double kGlanceSpreadDeg = 20;
constexpr double kGlanceCertain = 0.9;
constexpr double kOneEyePrior = 0.45;  // each
constexpr double kBothPrior = 0.05;
constexpr double kGlancePrior = 0.05;

double NormalDensity(double x, double variance) {
  return std::exp(-0.5 * x * x / variance) / std::sqrt(variance);
}

}  // namespace

NamedEye NameDriftingEye(const VergenceTrace& trace, const Eigen::VectorXd& course, double onset_s,
                         double size_deg, double size_sd_deg, double certain) {
  const auto n = static_cast<Eigen::Index>(trace.frames.size());
  Eigen::MatrixXd terms(n, 5);
  Eigen::VectorXd values(n);
  std::vector<double> time_s;
  std::vector<double> residual;
  std::vector<double> reported;
  std::vector<double> stated;
  for (Eigen::Index i = 0; i < n; ++i) {
    const VergenceFrame& f = trace.frames[static_cast<std::size_t>(i)];
    const double sideways_deg = kDegPerTangent * f.sideways;
    values[i] = f.left_deg - f.right_deg;
    terms.row(i) << 1, f.demand_deg, f.yaw_deg, sideways_deg, 100 / f.distance_mm;
    time_s.push_back(f.time_s);
    residual.push_back(values[i] - 2 * f.yaw_deg - 2 * sideways_deg);
    reported.push_back(f.reported_sd_deg);
    if (std::abs(f.time_s - onset_s) < kNearEventS) stated.push_back(f.split_sd_deg);
  }
  // Eyes held on one point answer a turn and a shift of the head twice over, once each.
  Eigen::VectorXd mean(5);
  mean << 0, 0, 2, 2, 0;
  Eigen::VectorXd sd(5);
  sd << 10, 0.2, 0.3, 0.3, 10;
  NoiseOptions noise;
  noise.wander_floor_deg = 1.5;
  noise.wander_cap_deg = 10;
  const Whitener whitener(time_s, EstimateNoise(time_s, residual, reported, noise));
  const PriorRegression regression(whitener, terms, mean, sd, values);
  const PriorRegression::Shape shape = regression.Prepare(whitener.Apply(course));
  const double inner = PriorRegression::Inner(shape, shape);
  NamedEye named;
  if (inner <= 0) return named;

  const double split = shape.data / inner;
  const double unsure = stated.empty() ? 0 : kStatedInChange * MedianOf(stated);
  const double settles = kSettles * size_deg;
  const double variance =
      1 / inner + size_sd_deg * size_sd_deg + unsure * unsure + settles * settles;
  const double left = kOneEyePrior * NormalDensity(split - size_deg, variance);
  const double right = kOneEyePrior * NormalDensity(split + size_deg, variance);
  const double both = kBothPrior * NormalDensity(split, variance);
  const double glance =
      kGlancePrior * NormalDensity(split, variance + kGlanceSpreadDeg * kGlanceSpreadDeg);
  const double total = left + right + both + glance;
  if (total <= 0) return named;
  const auto consider = [&](DriftingEye eye, double share) {
    if (share / total <= named.probability) return;
    named.probability = share / total;
    named.eye = eye;
  };
  consider(DriftingEye::kLeft, left);
  consider(DriftingEye::kRight, right);
  consider(DriftingEye::kBoth, both);
  if (named.probability < certain) named.eye = DriftingEye::kUnclear;
  named.glance =
      glance / total > kGlanceCertain && std::abs(split) > size_deg + 3 * std::sqrt(variance);
  return named;
}

}  // namespace nearpoint
