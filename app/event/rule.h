// What an event holds its measurements against, and what it then advises. A rule is chosen once,
// before the first child, and its expected yield (yield.h) is shown beside the choice.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "app/measure/estimate.h"
#include "app/measure/norms.h"
#include "app/measure/planes.h"
#include "app/measure/stopping.h"
#include "vision/core/result.h"

namespace nearpoint {

// The published limit for each child's own age, where one is known.
inline constexpr std::string_view kNormByAge = "by-age";

struct EventRule {
  std::string norm = "hayes-1998";  // an id of app/measure/norms.h with a limit, or kNormByAge
  ReferencePlane plane = ReferencePlane::kSpectacle;  // that values are shown from
  int least_trials = 2;                               // that count, before a child may go
  int most_trials = 3;                                // made, those set aside included
  // The estimate's probability that the near point is beyond the limit decides. From refer_from on
  // the advice is to see a professional; from repeat_from on, and where too few trials count, to
  // measure again. No source: ours, chosen on the expected yield; local rules come first.
  double refer_from = 0.80;
  double repeat_from = 0.50;
};

// Errors: kBadValue, kNotFound (an unknown norm), kInsufficient (a norm without a limit).
[[nodiscard]] Result<void> CheckRule(const EventRule& rule);

// The norm for a child of that age. By age: the default for it with a letter as target, else (age
// unknown, or no limit published) that of Hayes 1998. Needs a rule that passes CheckRule.
[[nodiscard]] const Norm& NormOf(const EventRule& rule, std::optional<double> age_years);
// Values in the corneal plane, as every session is stored.
[[nodiscard]] EstimateOptions OptionsOf(const EventRule& rule, std::optional<double> age_years);
[[nodiscard]] StoppingPlan PlanOf(const EventRule& rule);

enum class Finding {
  kNeedsLookingAfter,  // somebody said or saw what belongs before a professional; never from Judge
  kWithin,             // nothing beyond the limit was found; says nothing else about these eyes
  kSeeProfessional,    // beyond the limit by this rule
  kMeasureAgain,       // the measurement cannot tell, or two of them disagree
  kNotMeasured,        // nothing was measured that counts
};
[[nodiscard]] std::string_view ToText(Finding finding);

// trials_used: trials that count; probability_beyond: absent without a band. contradicted: the
// reports and the eyes tell different stories; nobody is sent anywhere on that, nor sent home.
[[nodiscard]] Finding Judge(const EventRule& rule, int trials_used,
                            std::optional<double> probability_beyond, bool contradicted = false);

}  // namespace nearpoint
