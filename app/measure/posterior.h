// What the trials say about the mean, the drift from trial to trial and the spread between trials,
// by numeric integration of the model of estimate.h. Deterministic; no random numbers.
//
// Priors. Mean: flat; among bounds the reference prior of bound_prior.h. Slope: N(0, 3 mm per
// trial), because a recession over repeated trials is usual but small (Maples & Hoenes, Optom Vis
// Sci 2007;84(3): over 3 trials significant statistically, not clinically). Between-trial deviation
// tau: lognormal, median 8 mm, 0.55 of the logarithm (95 % between 2.7 and 24 mm), from the
// published repeatability, divided by 1.96 sqrt(2):
// - 7.2 mm within a person, from a reliable change of 2 cm (Ernst et al., J Athl Train
//   2020;55(8):850);
// - 9.0 mm within a person, from limits of agreement of 2.5 cm (Scheiman et al., Ophthalmic Physiol
//   Opt 2025, doi 10.1111/opo.70022).
// Three trials hardly tell their own spread; the prior says what is known of it before, and is wide
// enough that ten trials overrule it.
#pragma once

#include <span>
#include <utility>
#include <vector>

#include "app/measure/likelihood.h"
#include "app/measure/mixture.h"

namespace nearpoint {

struct SpreadPrior {
  double median_mm = 8;
  double log_sd = 0.55;
};

struct PosteriorOptions {
  SpreadPrior spread;
  double slope_sd = 3;  // mm per trial; 0 leaves the slope out
  // Among bounds, the reference prior of the mean; false: flat. It is made for values that all
  // stand about one mean, beside one bound; where a line runs past the bound it is not.
  bool bound_prior = true;
};

struct Posterior {
  Mixture mean;                  // of the mean, at position 0
  Mixture slope;                 // empty when the slope is left out
  double between_sd_median = 0;  // of tau
  std::vector<std::pair<double, double>>
      between_sd;  // nodes of tau, mm, rising, with their weights
  double mean_slope_covariance = 0;
};

// Needs at least one uncensored observation.
[[nodiscard]] Posterior IntegratePosterior(std::span<const Observation> observations,
                                           const PosteriorOptions& options = {});

// For observations that are all censored on the same side: the chance of such bounds if the mean
// were `mean`, averaged over the prior of tau. Falls with the mean when censored below. The slope
// is left out: a drift makes a run of bounds less likely, so the bound drawn from this is the wider
// one.
[[nodiscard]] double ChanceOfBounds(std::span<const Observation> observations, double mean,
                                    const SpreadPrior& prior = {});

// The mean at which that chance is `chance`: the one-sided limit. chance in (0, 1).
[[nodiscard]] double LimitFromBounds(std::span<const Observation> observations, double chance,
                                     const SpreadPrior& prior = {});

}  // namespace nearpoint
