#include "app/measure/vergence_model.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>
#include <vector>

#include "app/measure/series_noise.h"

namespace nearpoint {
namespace {

// Priors so wide that the data decide: they only keep a short approach from running away.
constexpr double kOffsetSdDeg = 20;
constexpr double kGainSd = 5;
// What errs with the distance errs for as long as the target takes to move on: too slow to show
// between frames, and just what a slope must not be taken from. The error was 1 to 2 degrees on
// rendered footage.
constexpr double kCourseErrorDeg = 2;
constexpr double kCourseErrorS = 8;
// One eye's angle carries the head's: a turn of the head and the eyes' place beside the lens, with
// opposite signs for the two eyes. Degree for degree, but for the tracker's own errors in them.
constexpr double kTurnSd = 0.3;
constexpr double kDegPerTangent = 180 / std::numbers::pi;
constexpr double kSidewaysSdDeg = 0.3 * kDegPerTangent;

double Value(const VergenceFrame& frame, Measured measured) {
  switch (measured) {
    case Measured::kVergence:
      return frame.vergence_deg;
    case Measured::kLeftEye:
      return frame.left_deg;
    case Measured::kRightEye:
      return frame.right_deg;
  }
  return 0;
}

}  // namespace

double PersonalResponse::gain_sd() const { return std::sqrt(covariance(1, 1)); }
Angle PersonalResponse::offset_sd() const { return Angle::Degrees(std::sqrt(covariance(0, 0))); }

PersonalResponse FitResponse(std::span<const VergenceFrame> frames, Measured measured,
                             std::optional<double> step_s) {
  const bool one_eye = measured != Measured::kVergence;
  const auto n = static_cast<Eigen::Index>(frames.size());
  const Eigen::Index k = (one_eye ? 4 : 2) + (step_s ? 1 : 0);
  Eigen::MatrixXd terms(n, k);
  Eigen::VectorXd values(n);
  std::vector<double> time_s;
  std::vector<double> residual;
  std::vector<double> reported;
  double yaw = 0;
  double sideways = 0;
  for (const VergenceFrame& f : frames) {
    yaw += f.yaw_deg / static_cast<double>(n);
    sideways += f.sideways / static_cast<double>(n);
  }
  for (Eigen::Index i = 0; i < n; ++i) {
    const VergenceFrame& f = frames[static_cast<std::size_t>(i)];
    const double demand = one_eye ? 0.5 * f.demand_deg : f.demand_deg;
    terms(i, 0) = 1;
    terms(i, 1) = demand;
    if (one_eye) {
      terms(i, 2) = f.yaw_deg - yaw;
      terms(i, 3) = f.sideways - sideways;
    }
    if (step_s) terms(i, k - 1) = f.time_s < *step_s ? 0 : -1;
    values[i] = Value(f, measured);
    time_s.push_back(f.time_s);
    residual.push_back(values[i] - demand);
    reported.push_back(f.reported_sd_deg);
  }
  NoiseOptions noise_options;
  noise_options.wander_floor_deg = kCourseErrorDeg;
  noise_options.time_constant_s = kCourseErrorS;
  if (one_eye) noise_options.wander_cap_deg = 6;
  const Whitener whitener(time_s, EstimateNoise(time_s, residual, reported, noise_options));
  Eigen::VectorXd prior_mean = Eigen::VectorXd::Zero(k);
  Eigen::VectorXd prior_sd(k);
  prior_mean[1] = 1;
  prior_sd[0] = kOffsetSdDeg;
  prior_sd[1] = kGainSd;
  if (one_eye) {
    const double sign = measured == Measured::kLeftEye ? 1 : -1;
    prior_mean[2] = sign;
    prior_sd[2] = kTurnSd;
    prior_mean[3] = sign * kDegPerTangent;
    prior_sd[3] = kSidewaysSdDeg;
  }
  if (step_s) prior_sd[k - 1] = kOffsetSdDeg;
  const PriorRegression fit(whitener, terms, prior_mean, prior_sd, values);
  PersonalResponse response;
  response.offset = Angle::Degrees(fit.factors()[0]);
  response.gain = fit.factors()[1];
  // The noise was estimated, not known: misfit beyond it widens the answer.
  response.covariance =
      fit.covariance().topLeftCorner<2, 2>() * std::max(1.0, fit.chi2_per_frame());
  return response;
}

PersonalVergence LearnVergence(const VergenceTrace& trace, double until_s,
                               const LearnOptions& options) {
  std::vector<VergenceFrame> frames;
  for (const VergenceFrame& f : trace.frames) {
    if (f.time_s < until_s && f.distance_mm > options.far.mm()) frames.push_back(f);
  }
  PersonalVergence personal;
  personal.frames = static_cast<int>(frames.size());
  char text[160];
  if (personal.frames < options.min_frames) {
    std::snprintf(
        text, sizeof text,
        "Both eyes were seen in only %d frames farther than %.0f cm, so this person's own "
        "vergence could not be learned.",
        personal.frames, options.far.cm());
    personal.why_not = text;
    return personal;
  }
  const auto [least, greatest] =
      std::ranges::minmax_element(frames, {}, &VergenceFrame::demand_deg);
  personal.least_demand = Angle::Degrees(least->demand_deg);
  personal.greatest_demand = Angle::Degrees(greatest->demand_deg);
  const Angle range = personal.greatest_demand - personal.least_demand;
  if (range < options.min_demand_range) {
    std::snprintf(text, sizeof text,
                  "The target asked for a range of only %.1f degrees farther than %.0f cm, so this "
                  "person's own vergence could not be learned.",
                  range.deg(), options.far.cm());
    personal.why_not = text;
    return personal;
  }
  personal.vergence = FitResponse(frames, Measured::kVergence);
  personal.left_eye = FitResponse(frames, Measured::kLeftEye);
  personal.right_eye = FitResponse(frames, Measured::kRightEye);
  personal.learned = true;
  return personal;
}

}  // namespace nearpoint
