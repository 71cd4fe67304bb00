// The most likely mean (or line) and between-trial deviation, without priors: the check of the
// model against other programs' censored regression and random-effects fits, and the second opinion
// beside the band.
#pragma once

#include <span>

#include "app/measure/likelihood.h"

namespace nearpoint {

struct MaximumLikelihood {
  double mean = 0;
  double between_sd = 0;  // 0 when the values scatter less than their own deviations say
  double log_likelihood = 0;
  double mean_standard_error = 0;  // from the curvature in the mean at the maximum, between_sd held
  double slope = 0;                // per unit of position; zero unless it was asked for
  double slope_standard_error = 0;
};

enum class Slope { kZero, kFree };

// Which function of the between-trial deviation is made greatest.
enum class SpreadMethod {
  kMaximumLikelihood,
  kRestricted,  // REML: the mean integrated out; uncensored observations only
};

// Needs two or more observations, at least one uncensored (two for kRestricted, and then all); one
// more, and two positions, with a free slope. A free slope is the meta-regression of values with
// their own variances on their positions, and with none the plain line.
[[nodiscard]] MaximumLikelihood FitMaximumLikelihood(
    std::span<const Observation> observations,
    SpreadMethod method = SpreadMethod::kMaximumLikelihood, Slope slope = Slope::kZero);

}  // namespace nearpoint
