// A distance and its speed at one moment from the samples around it, robust against wrong samples.
#pragma once

#include <optional>
#include <span>

namespace nearpoint {

struct FitPoint {
  double time_s = 0;  // from the moment asked about
  double value = 0;
  double sd =
      1;  // > 0; only the ratio between points matters, unless there are too few to judge by
};

struct LocalFit {
  double value = 0;  // at time 0
  double slope = 0;  // per second, at time 0
  double value_sd =
      0;  // one deviation, from the residuals; neighbours that err together are allowed for
  double slope_sd = 0;
  double residual_sd = 0;
  int points = 0;  // with weight left after the outliers are found
};

// A line by Theil and Sen's median of slopes, then bisquare reweighting about it (tuning 4.685,
// Mosteller & Tukey 1977: 95 % efficient for normal errors). A parabola takes the line's place
// where the residuals ask for it clearly (t > 4). nullopt with fewer than 3 points or all at one
// time.
[[nodiscard]] std::optional<LocalFit> FitLocally(std::span<const FitPoint> points);

}  // namespace nearpoint
