#include "app/event/by_the_eyes.h"

#include <utility>

#include "app/measure/agreement.h"
#include "app/measure/estimate.h"

namespace nearpoint {
namespace {

// As far as FlowRules::turned: who went back so far has turned round.
constexpr Length kTurning = Length::Millimeters(40);

ChildMeasured Summarise(std::span<const Trial> trials, const Estimate& estimate) {
  ChildMeasured measured;
  if (estimate.break_mm) {
    measured.break_mm = estimate.break_mm->value;
    measured.low_mm = estimate.break_mm->low;
    measured.high_mm = estimate.break_mm->high;
  }
  measured.probability_beyond = estimate.probability_beyond;
  measured.cut_off_mm = estimate.cut_off.mm();
  measured.trials_made = static_cast<int>(trials.size());
  measured.trials_used = estimate.trials_used;
  for (const Trial& trial : trials) {
    if (trial.set_aside) measured.set_aside.push_back(SetAsideText(trial));
  }
  return measured;
}

}  // namespace

Trial ByTheEyes(Trial trial, const ObjectiveResult& eyes, Length cut_off) {
  trial = WithObjective(std::move(trial), eyes);
  if (trial.set_aside && *trial.set_aside != SetAside::kNoResponse) return trial;
  trial.break_point.reset();
  trial.recovery.reset();
  trial.censored = Censoring::kNone;
  trial.limit.reset();
  trial.set_aside.reset();
  const auto at = [](const ObjectiveEvent& event) {
    EventDistance distance;
    distance.time = event.time;
    distance.value = *event.distance;
    distance.uncorrected = event.distance->value;  // no hand, no lag
    return distance;
  };
  const bool stayed_beyond = trial.nearest && *trial.nearest > cut_off;
  const bool broke = eyes.break_point && eyes.break_point->distance;
  // Eyes move when a head turns round; that alone is no break.
  const bool at_the_turn =
      broke && stayed_beyond && eyes.break_point->distance->value - *trial.nearest < kTurning;
  if (broke && !at_the_turn) {
    trial.break_point = at(*eyes.break_point);
    if (eyes.recovery && eyes.recovery->distance) trial.recovery = at(*eyes.recovery);
  } else if (stayed_beyond) {
    trial.set_aside = SetAside::kNoApproach;
  } else if (trial.nearest && eyes.RulesOut(Angle::Degrees(kRuledOutDegrees))) {
    trial.censored = Censoring::kBelow;
    trial.limit = trial.nearest;
  } else {
    trial.set_aside = SetAside::kNoResponse;
  }
  return trial;
}

ChildMeasured MeasuredFrom(std::span<const Trial> trials, std::span<const TrialEyes> eyes,
                           const SharedCalibration& shared, const EstimateOptions& options,
                           int least_trials) {
  ChildMeasured reported = Summarise(trials, EstimateNearPoint(trials, shared, options));
  if (eyes.size() != trials.size()) return reported;
  if (reported.trials_used >= least_trials) {
    std::vector<TrialAgreement> agreements;
    for (const TrialEyes& trial : eyes) agreements.push_back(trial.agreement);
    reported.contradicted = CompareSession(agreements).flagged;
    return reported;
  }
  std::vector<Trial> seen;
  for (std::size_t i = 0; i < trials.size(); ++i) {
    seen.push_back(ByTheEyes(trials[i], eyes[i].objective, options.cut_off));
  }
  ChildMeasured measured = Summarise(seen, EstimateNearPoint(seen, shared, options));
  if (measured.trials_used <= reported.trials_used) return reported;
  measured.basis = Basis::kEyes;
  return measured;
}

}  // namespace nearpoint
