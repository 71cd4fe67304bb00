// What a clinician weighs beside the estimate, as the commands print it.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "app/measure/change.h"
#include "app/measure/criteria.h"
#include "app/measure/norms.h"
#include "app/measure/progress.h"
#include "app/measure/stopping.h"

namespace nearpoint {

[[nodiscard]] nlohmann::ordered_json PlannedStoppingToJson(const NextStep& next,
                                                           const StoppingPlan& plan);

// One published norm and what it says of this estimate, counted from the norm's plane.
[[nodiscard]] nlohmann::ordered_json NormToJson(const Norm& norm, const NormComparison& comparison);

[[nodiscard]] nlohmann::ordered_json ChangeToJson(const ChangeResult& change);

[[nodiscard]] nlohmann::ordered_json ProgressToJson(const Progress& progress);

[[nodiscard]] nlohmann::ordered_json CriteriaToJson(const std::vector<Criterion>& criteria,
                                                    const ContextValues& context);

}  // namespace nearpoint
