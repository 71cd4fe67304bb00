// nearpoint estimate: the estimate of trials that are already known.
#pragma once

#include <string>
#include <vector>

#include "app/measure/stopping.h"
#include "app/session/estimate_options.h"
#include "vision/core/result.h"

namespace nearpoint {

struct EstimateCommandArguments {
  std::vector<std::string> files;  // SESSION.json or CSV, mixed as you like; at least one
  EstimateArguments estimate;      // values of a CSV are counted from estimate.plane
  StoppingPlan plan;
};

// Trials keep the numbers they have in their file, so that tiring within a session stays visible.
// Of several shared calibrations the least certain counts.
[[nodiscard]] Result<void> RunEstimate(const EstimateCommandArguments& arguments);

}  // namespace nearpoint
