// The estimate as it stands in SESSION.json and as `nearpoint estimate` prints it.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <span>

#include "app/measure/estimate.h"
#include "app/measure/what_if.h"

namespace nearpoint {

[[nodiscard]] nlohmann::ordered_json BandToJson(const std::optional<Band>& band);
[[nodiscard]] nlohmann::ordered_json EstimateToJson(const Estimate& estimate);

// "set_aside" of the estimate: a list, one entry for each rule.
[[nodiscard]] nlohmann::ordered_json RuleEffectsToJson(std::span<const RuleEffect> effects);

}  // namespace nearpoint
