// The trials that were set aside, by rule, and what the estimate would be without each rule.
// Leaving trials out is a choice; who reads the result must see what it did.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/trial.h"

namespace nearpoint {

struct RuleEffect {
  std::string reason;         // the words of the rule
  std::vector<int> trials;    // numbers of the trials it set aside
  std::vector<int> no_value;  // of them, those without a distance: no rule could let them count
  // With the trials of this rule counted and all other rules in force. Absent when none of them has
  // a distance.
  std::optional<Estimate> without_rule;
};

// One entry for each reason, in the order in which the reasons first occur. Empty when every trial
// counts.
[[nodiscard]] std::vector<RuleEffect> EffectOfRules(std::span<const Trial> trials,
                                                    const SharedCalibration& shared,
                                                    const EstimateOptions& options = {});

}  // namespace nearpoint
