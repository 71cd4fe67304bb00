#include "app/measure/max_likelihood.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace nearpoint {
namespace {

struct Profile {
  std::span<const Observation> observations;
  SpreadMethod method;
  double start;
  double slope_sd;  // 0, or so wide a prior that it says nothing

  [[nodiscard]] ConditionalMode Mode(double tau) const {
    ConditionalMode mode = FindConditionalMode(observations, tau, slope_sd, start);
    if (slope_sd > 0) mode.log += std::log(slope_sd * std::sqrt(2 * std::numbers::pi));
    return mode;
  }
  [[nodiscard]] double Log(double tau) const {
    const ConditionalMode mode = Mode(tau);
    if (method != SpreadMethod::kRestricted) return mode.log;
    // Integrating a normal likelihood over a parameter multiplies it by sqrt(2 pi / information).
    return mode.log + (slope_sd > 0 ? std::log(2 * std::numbers::pi) - 0.5 * std::log(Det(mode))
                                    : 0.5 * std::log(2 * std::numbers::pi / mode.info_mean));
  }
  static double Det(const ConditionalMode& mode) {
    return mode.info_mean * mode.info_slope - mode.info_cross * mode.info_cross;
  }
};

// In units of the values' spread over that of the positions.
constexpr double kFreeSlope = 1e6;

double FreeSlopeSd(std::span<const Observation> observations, double spread) {
  const auto [first, last] = std::ranges::minmax(observations, {}, &Observation::position);
  return kFreeSlope * spread / (last.position - first.position);
}

}  // namespace

MaximumLikelihood FitMaximumLikelihood(std::span<const Observation> observations,
                                       SpreadMethod method, Slope slope) {
  const auto [least, greatest] = std::ranges::minmax(observations, {}, &Observation::value);
  const double spread =
      std::max(greatest.value - least.value, 1e-12 * std::abs(greatest.value)) + 1e-300;
  const double slope_sd = slope == Slope::kFree ? FreeSlopeSd(observations, spread) : 0;
  const Profile profile{observations, method, PlainMean(observations), slope_sd};

  // A coarse look over six decades, then golden section between the neighbours of the best.
  constexpr int kSteps = 60;
  const auto tau_at = [&](double step) { return spread * std::pow(10.0, -5 + step / 10); };
  double best = 0;
  double best_log = -std::numeric_limits<double>::infinity();
  for (int i = 0; i <= kSteps; ++i) {
    const double log = profile.Log(tau_at(i));
    if (log > best_log) {
      best_log = log;
      best = i;
    }
  }
  constexpr double kGolden = 0.61803398874989485;
  double a = best - 1;
  double b = best + 1;
  double c = b - kGolden * (b - a);
  double d = a + kGolden * (b - a);
  double log_c = profile.Log(tau_at(c));
  double log_d = profile.Log(tau_at(d));
  while (b - a > 1e-9) {
    if (log_c > log_d) {
      b = d;
      d = c;
      log_d = log_c;
      c = b - kGolden * (b - a);
      log_c = profile.Log(tau_at(c));
    } else {
      a = c;
      c = d;
      log_c = log_d;
      d = a + kGolden * (b - a);
      log_d = profile.Log(tau_at(d));
    }
  }
  double tau = tau_at(0.5 * (a + b));
  const bool zero_possible =
      std::ranges::all_of(observations, [](const Observation& o) { return o.variance > 0; });
  if (zero_possible && profile.Log(0) >= profile.Log(tau)) tau = 0;

  const ConditionalMode mode = profile.Mode(tau);
  MaximumLikelihood result;
  result.mean = mode.mean;
  result.between_sd = tau;
  result.log_likelihood = method == SpreadMethod::kRestricted ? profile.Log(tau) : mode.log;
  result.mean_standard_error = 1 / std::sqrt(mode.info_mean);
  if (slope == Slope::kFree) {
    const double det = Profile::Det(mode);
    result.mean_standard_error = std::sqrt(mode.info_slope / det);
    result.slope = mode.slope;
    result.slope_standard_error = std::sqrt(mode.info_mean / det);
  }
  return result;
}

}  // namespace nearpoint
