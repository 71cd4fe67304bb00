#include "app/measure/likelihood.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/measure/normal.h"

namespace nearpoint {

LikelihoodTerms EvaluateLikelihood(std::span<const Observation> observations, double mean,
                                   double slope, double tau) {
  LikelihoodTerms sum;
  for (const Observation& o : observations) {
    const double variance = o.variance + tau * tau;
    const double residual = o.value - mean - slope * o.position;
    double gradient = 0;  // with respect to the trial's own mean
    double information = 0;
    if (o.censoring == Censoring::kNone) {
      sum.log -= 0.5 * (residual * residual / variance + std::log(2 * std::numbers::pi * variance));
      gradient = residual / variance;
      information = 1 / variance;
    } else {
      const double sign = o.censoring == Censoring::kBelow ? 1 : -1;
      const double sd = std::sqrt(variance);
      const double z = sign * residual / sd;
      const double mills = InverseMills(z);
      sum.log += LogNormalCdf(z);
      gradient = -sign * mills / sd;
      information = mills * (z + mills) / variance;
    }
    sum.grad_mean += gradient;
    sum.grad_slope += gradient * o.position;
    sum.info_mean += information;
    sum.info_cross += information * o.position;
    sum.info_slope += information * o.position * o.position;
  }
  return sum;
}

namespace {

LikelihoodTerms WithSlopePrior(std::span<const Observation> observations, double mean, double slope,
                               double tau, double slope_sd) {
  LikelihoodTerms terms = EvaluateLikelihood(observations, mean, slope, tau);
  if (slope_sd > 0) {
    const double variance = slope_sd * slope_sd;
    terms.log -= 0.5 * (slope * slope / variance + std::log(2 * std::numbers::pi * variance));
    terms.grad_slope -= slope / variance;
    terms.info_slope += 1 / variance;
  }
  return terms;
}

}  // namespace

ConditionalMode FindConditionalMode(std::span<const Observation> observations, double tau,
                                    double slope_sd, double start_mean) {
  double mean = start_mean;
  double slope = 0;
  LikelihoodTerms terms = WithSlopePrior(observations, mean, slope, tau, slope_sd);
  for (int iteration = 0; iteration < 100; ++iteration) {
    double step_mean = 0;
    double step_slope = 0;
    if (slope_sd > 0) {
      const double det = terms.info_mean * terms.info_slope - terms.info_cross * terms.info_cross;
      step_mean = (terms.info_slope * terms.grad_mean - terms.info_cross * terms.grad_slope) / det;
      step_slope = (terms.info_mean * terms.grad_slope - terms.info_cross * terms.grad_mean) / det;
    } else {
      step_mean = terms.grad_mean / terms.info_mean;
    }
    // Concave, so halving the step until it gains always ends; far from the mode a full step may
    // overshoot.
    double scale = 1;
    LikelihoodTerms next;
    for (int halving = 0; halving < 60; ++halving, scale *= 0.5) {
      next = WithSlopePrior(observations, mean + scale * step_mean, slope + scale * step_slope, tau,
                            slope_sd);
      if (next.log >= terms.log - 1e-12 * (1 + std::abs(terms.log))) break;
    }
    mean += scale * step_mean;
    slope += scale * step_slope;
    terms = next;
    const double length = 1e-9 / std::sqrt(terms.info_mean);
    if (std::abs(scale * step_mean) < length + 1e-12 * std::abs(mean) &&
        std::abs(scale * step_slope) < length + 1e-12 * std::abs(slope)) {
      break;
    }
  }
  return {mean, slope, terms.log, terms.info_mean, terms.info_cross, terms.info_slope};
}

double PlainMean(std::span<const Observation> observations) {
  double sum = 0;
  for (const Observation& o : observations) sum += o.value;
  return observations.empty() ? 0 : sum / static_cast<double>(observations.size());
}

bool AllCensored(std::span<const Observation> observations) {
  return std::ranges::none_of(observations,
                              [](const Observation& o) { return o.censoring == Censoring::kNone; });
}

}  // namespace nearpoint
