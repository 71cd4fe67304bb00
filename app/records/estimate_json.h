// The estimate as it stands in SESSION.json and as `nearpoint estimate` prints it.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "app/measure/estimate.h"

namespace nearpoint {

[[nodiscard]] nlohmann::ordered_json EstimateToJson(const Estimate& estimate);

}  // namespace nearpoint
