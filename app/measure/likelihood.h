// The likelihood of a session: values known up to a deviation of their own, some only as bounds,
// scattered about a mean that may drift from trial to trial. The one place where the model of
// estimate.h is written as a formula; the posterior (posterior.h) and the maximum
// (max_likelihood.h) both read it.
#pragma once

#include <span>
#include <vector>

#include "app/measure/trial.h"

namespace nearpoint {

struct Observation {
  double value = 0;     // mm; the bound when censored
  double variance = 0;  // mm^2, of this value alone, >= 0
  double position = 0;  // trial number minus the centre of the numbers
  Censoring censoring = Censoring::kNone;
};

// At one between-trial deviation tau: the log-likelihood of (mean, slope), its gradient and minus
// its second derivative. It is concave in both.
struct LikelihoodTerms {
  double log = 0;
  double grad_mean = 0, grad_slope = 0;
  double info_mean = 0, info_cross = 0, info_slope = 0;
};

// sum over uncensored of log N(value; mean + slope position, variance + tau^2)
// + sum over censored of log P(beyond the bound). Needs variance + tau^2 > 0 for every observation.
[[nodiscard]] LikelihoodTerms EvaluateLikelihood(std::span<const Observation> observations,
                                                 double mean, double slope, double tau);

// Where the likelihood times a normal prior of the slope, N(0, slope_sd^2), is greatest for this
// tau. slope_sd 0 holds the slope at zero. Needs at least one uncensored observation, or bounds on
// both sides.
struct ConditionalMode {
  double mean = 0, slope = 0;
  double log = 0;  // likelihood and slope prior (normalised), at the mode
  double info_mean = 0, info_cross = 0, info_slope = 0;
};
[[nodiscard]] ConditionalMode FindConditionalMode(std::span<const Observation> observations,
                                                  double tau, double slope_sd, double start_mean);

// A start for the search: the mean of all values and bounds.
[[nodiscard]] double PlainMean(std::span<const Observation> observations);

[[nodiscard]] bool AllCensored(std::span<const Observation> observations);

}  // namespace nearpoint
