#include "app/measure/what_if.h"

#include <algorithm>

#include "app/measure/observations.h"

namespace nearpoint {
namespace {

Estimate Without(const std::string& reason, std::span<const Trial> trials,
                 const SharedCalibration& shared, const EstimateOptions& options) {
  std::vector<Trial> counted(trials.begin(), trials.end());
  for (Trial& trial : counted) {
    if (SetAsideText(trial) == reason && HasBreak(trial)) trial.set_aside.reset();
  }
  return EstimateNearPoint(counted, shared, options);
}

}  // namespace

std::vector<RuleEffect> EffectOfRules(std::span<const Trial> trials,
                                      const SharedCalibration& shared,
                                      const EstimateOptions& options) {
  std::vector<RuleEffect> effects;
  for (const Trial& trial : trials) {
    if (!trial.set_aside) continue;
    const std::string reason = SetAsideText(trial);
    auto effect = std::ranges::find(effects, reason, &RuleEffect::reason);
    if (effect == effects.end()) {
      effects.push_back({.reason = reason, .trials = {}, .no_value = {}, .without_rule = {}});
      effect = effects.end() - 1;
    }
    effect->trials.push_back(trial.number);
    if (!HasBreak(trial)) effect->no_value.push_back(trial.number);
  }
  for (RuleEffect& effect : effects) {
    if (effect.no_value.size() < effect.trials.size()) {
      effect.without_rule = Without(effect.reason, trials, shared, options);
    }
  }
  return effects;
}

}  // namespace nearpoint
