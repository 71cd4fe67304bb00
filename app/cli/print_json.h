// The answer of a command as one JSON object on standard output.
#pragma once

#include <nlohmann/json.hpp>

#include "vision/core/result.h"

namespace nearpoint {

[[nodiscard]] Result<void> PrintJson(const nlohmann::ordered_json& json);

}  // namespace nearpoint
