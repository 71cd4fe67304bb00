#include "app/measure/local_fit.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "app/measure/robust.h"

namespace nearpoint {
namespace {

constexpr double kBisquare = 4.685;
constexpr double kMadToSd = 1.4826;     // of a normal distribution
constexpr double kClearCurve = 4.0;     // deviations of the quadratic term
constexpr int kEnoughToJudge = 6;       // points from which the residuals alone tell the deviation
constexpr double kLeastPsiSlope = 0.2;  // so that a fit through mostly outliers stays finite
constexpr double kResolution = 0.01;    // below this residuals are rounding, not noise

double Evaluate(std::span<const double> coefficients, double time_s) {
  double value = 0;
  for (std::size_t k = coefficients.size(); k-- > 0;) value = value * time_s + coefficients[k];
  return value;
}

// A polynomial of the given degree with the variance of each coefficient for unit residual
// deviation.
template <int kDegree>
struct Robust {
  std::array<double, kDegree + 1> coefficients{};
  std::array<double, kDegree + 1> unit_variance{};
  double residual_sd = 0;  // in units of the points' relative sd
  double inflation = 1;    // of variances, for residuals that follow each other
  int kept = 0;

  [[nodiscard]] bool solved() const { return kept > kDegree; }
};

template <int kDegree>
void SolveWeighted(std::span<const FitPoint> points, std::span<const double> weights,
                   Robust<kDegree>& robust) {
  using Matrix = Eigen::Matrix<double, kDegree + 1, kDegree + 1>;
  using Vector = Eigen::Matrix<double, kDegree + 1, 1>;
  Matrix normal = Matrix::Zero();
  Vector right = Vector::Zero();
  for (std::size_t i = 0; i < points.size(); ++i) {
    Vector row;
    row[0] = 1;
    for (int k = 1; k <= kDegree; ++k) row[k] = row[k - 1] * points[i].time_s;
    normal += weights[i] * row * row.transpose();
    right += weights[i] * points[i].value * row;
  }
  const Matrix inverse = normal.inverse();
  const Vector solution = inverse * right;
  for (int k = 0; k <= kDegree; ++k) {
    robust.coefficients[k] = solution[k];
    robust.unit_variance[k] = inverse(k, k);
  }
}

template <int kDegree>
Robust<kDegree> Refine(std::span<const FitPoint> points, std::span<const double> relative_sd,
                       std::vector<double> residuals) {
  Robust<kDegree> robust;
  std::vector<double> weights(points.size());
  std::vector<double> magnitudes(points.size());
  for (int iteration = 0; iteration < 20; ++iteration) {
    for (std::size_t i = 0; i < points.size(); ++i) {
      magnitudes[i] = std::abs(residuals[i]) / relative_sd[i];
    }
    const double scale = std::max(kMadToSd * MedianOf(magnitudes), kResolution);
    robust.kept = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const double u = magnitudes[i] / (kBisquare * scale);
      const double taper = u < 1 ? (1 - u * u) * (1 - u * u) : 0;
      weights[i] = taper / (relative_sd[i] * relative_sd[i]);
      if (taper > 0) ++robust.kept;
    }
    if (!robust.solved()) return robust;
    SolveWeighted(points, weights, robust);
    double change = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const double next = points[i].value - Evaluate(robust.coefficients, points[i].time_s);
      change = std::max(change, std::abs(next - residuals[i]));
      residuals[i] = next;
    }
    if (change < 1e-9) break;
  }

  // The variance of the reweighted fit (Huber, Robust Statistics 1981, section 7.6): that of an
  // ordinary fit with the residual variance E[psi^2] / E[psi']^2.
  const double count = static_cast<double>(points.size());
  double psi_squares = 0;
  double psi_slopes = 0;
  double squares = 0;
  double products = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double base = 1 / (relative_sd[i] * relative_sd[i]);
    const double taper = weights[i] / base;
    const double scaled = residuals[i] / relative_sd[i];
    psi_squares += taper * taper * scaled * scaled;
    // With taper = (1 - u^2)^2, the slope of psi is (1 - u^2)(1 - 5 u^2).
    const double root = std::sqrt(taper);
    psi_slopes += root * (5 * root - 4);
    squares += weights[i] * residuals[i] * residuals[i];
    if (i > 0) products += std::sqrt(weights[i] * weights[i - 1]) * residuals[i] * residuals[i - 1];
    weights[i] = base;
  }
  const double slope = std::max(psi_slopes / count, kLeastPsiSlope);
  robust.residual_sd = std::sqrt(psi_squares / std::max(1.0, count - kDegree - 1)) / slope;
  Robust<kDegree> plain;
  SolveWeighted(points, weights, plain);
  robust.unit_variance = plain.unit_variance;
  // First-order autocorrelation rho: the variance of a mean grows by (1 + rho) / (1 - rho).
  if (robust.kept >= kEnoughToJudge && squares > 0) {
    const double rho = std::clamp(products / squares, 0.0, 0.8);
    robust.inflation = (1 + rho) / (1 - rho);
  }
  return robust;
}

template <int kDegree>
LocalFit Describe(const Robust<kDegree>& robust, double median_sd) {
  LocalFit fit;
  fit.value = robust.coefficients[0];
  fit.slope = robust.coefficients[1];
  fit.points = robust.kept;
  fit.residual_sd =
      robust.kept >= kEnoughToJudge ? robust.residual_sd : std::max(robust.residual_sd, median_sd);
  fit.residual_sd = std::max(fit.residual_sd, kResolution);
  const double scale = fit.residual_sd * std::sqrt(robust.inflation);
  fit.value_sd = scale * std::sqrt(robust.unit_variance[0]);
  fit.slope_sd = scale * std::sqrt(robust.unit_variance[1]);
  return fit;
}

}  // namespace

std::optional<LocalFit> FitLocally(std::span<const FitPoint> points) {
  if (points.size() < 3) return std::nullopt;

  std::vector<double> slopes;
  slopes.reserve(points.size() * points.size() / 2);
  for (std::size_t i = 0; i < points.size(); ++i) {
    for (std::size_t j = i + 1; j < points.size(); ++j) {
      const double dt = points[j].time_s - points[i].time_s;
      if (dt != 0) slopes.push_back((points[j].value - points[i].value) / dt);
    }
  }
  if (slopes.empty()) return std::nullopt;
  const double slope = MedianOf(std::move(slopes));
  std::vector<double> intercepts;
  std::vector<double> sds;
  for (const FitPoint& p : points) {
    intercepts.push_back(p.value - slope * p.time_s);
    sds.push_back(p.sd);
  }
  const double intercept = MedianOf(intercepts);
  const double median_sd = MedianOf(sds);

  // A sample's own deviation counts, within limits: one that calls itself perfect must not rule the
  // rest.
  std::vector<double> relative_sd;
  std::vector<double> residuals;
  for (const FitPoint& p : points) {
    relative_sd.push_back(std::clamp(p.sd / median_sd, 0.5, 4.0));
    residuals.push_back(p.value - intercept - slope * p.time_s);
  }
  const Robust<1> line = Refine<1>(points, relative_sd, residuals);
  if (!line.solved()) return std::nullopt;
  if (line.kept > kEnoughToJudge + 2) {
    const Robust<2> parabola = Refine<2>(points, relative_sd, residuals);
    const double term_sd =
        std::sqrt(parabola.unit_variance[2] * parabola.inflation) * parabola.residual_sd;
    if (parabola.kept > kEnoughToJudge &&
        std::abs(parabola.coefficients[2]) > kClearCurve * std::max(term_sd, kResolution)) {
      return Describe(parabola, median_sd);
    }
  }
  return Describe(line, median_sd);
}

}  // namespace nearpoint
