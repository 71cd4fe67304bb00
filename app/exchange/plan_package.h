// A plan on its way from a clinic to one person at home, who may share the device with others.
#pragma once

#include <string>

#include "app/exchange/package.h"
#include "vision/core/result.h"

namespace nearpoint {

struct SentPlan {
  std::string for_whom;  // as that person calls themselves at home
  std::string text;      // EXERCISE-PLAN.json
};

// id and made_at are the caller's: drawn and read from a clock.
[[nodiscard]] Package MakePlanPackage(const SentPlan& plan, const std::string& from);

// kBadValue: there is no plan inside, more than one, or it does not say for whom.
[[nodiscard]] Result<SentPlan> PlanOf(const Package& package);

}  // namespace nearpoint
