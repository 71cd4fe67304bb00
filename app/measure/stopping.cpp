#include "app/measure/stopping.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "app/measure/normal.h"
#include "app/measure/posterior.h"

namespace nearpoint {
namespace {

// When every trial was only a bound: the answer if all that may follow are as the last. That is the
// best case for the side the bounds speak for, and no trial can be more in its favour than another
// bound.
double ChanceFromBounds(std::span<const Trial> trials, int left, const SharedCalibration& shared,
                        const EstimateOptions& options) {
  std::vector<Trial> full(trials.begin(), trials.end());
  const auto last =
      std::find_if(full.rbegin(), full.rend(), [](const Trial& t) { return !t.set_aside; });
  for (Trial next = *last; left > 0; --left) {
    ++next.number;
    full.push_back(next);
  }
  return EstimateNearPoint(full, shared, options).answer == Answer::kCannotTell ? 0 : 1;
}

// Normal reckoning ahead. Now the mean is known to `now`; after `left` more trials to `later`; the
// final value lies about the present one with what is still to be learned, now^2 - later^2.
double ChanceFromValues(const Estimate& estimate, int left, const EstimateOptions& options) {
  const double z = NormalQuantile((1 + options.level) / 2);
  const Band& band = *estimate.break_mm;
  const double total = (*band.high - band.low) / (2 * z);
  const double shared = estimate.shared_sd_mm;
  const double now = std::sqrt(std::max(0.0, total * total - shared * shared));
  const double between = estimate.between_trial_sd_mm.value_or(SpreadPrior().median_mm);
  const double later = 1 / std::sqrt(1 / (now * now) + left / (between * between));
  const double learned = std::sqrt(std::max(1e-12, now * now - later * later));
  const double half = z * std::hypot(later, shared);
  const double offset = *band.value - options.cut_off.mm();
  return NormalCdf((offset - half) / learned) + NormalCdf((-offset - half) / learned);
}

}  // namespace

std::string_view ToText(Advice advice) {
  switch (advice) {
    case Advice::kContinue:
      return "another trial";
    case Advice::kAnswered:
      return "answered";
    case Advice::kCannotChange:
      return "more trials would hardly bring an answer";
    case Advice::kMaximum:
      return "the agreed number of trials is reached";
  }
  return "";
}

NextStep AdviseNextStep(std::span<const Trial> trials, const SharedCalibration& shared,
                        const EstimateOptions& options, const StoppingPlan& plan) {
  NextStep next;
  next.estimate = EstimateNearPoint(trials, shared, options);
  const int left = std::max(0, plan.most - static_cast<int>(trials.size()));
  const bool enough = next.estimate.trials_used >= plan.least;
  if (enough && next.estimate.answer != Answer::kCannotTell) {
    next.advice = Advice::kAnswered;
    return next;
  }
  if (left == 0) {
    next.advice = Advice::kMaximum;
    next.chance_of_answer = next.estimate.answer == Answer::kCannotTell ? 0 : 1;
    return next;
  }
  if (!next.estimate.break_mm) return next;  // nothing is known yet, so nothing is ruled out
  const Band& band = *next.estimate.break_mm;
  next.chance_of_answer = band.value && band.high ? ChanceFromValues(next.estimate, left, options)
                                                  : ChanceFromBounds(trials, left, shared, options);
  if (enough && next.chance_of_answer < plan.worth_it) next.advice = Advice::kCannotChange;
  return next;
}

}  // namespace nearpoint
