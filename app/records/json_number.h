// Numbers as every file of the program has them.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>

#include "vision/core/units.h"

namespace nearpoint {

using OrderedJson = nlohmann::ordered_json;

// The value with at most so many decimals, and null for what is not finite: NaN never reaches a
// file.
[[nodiscard]] OrderedJson JsonNumber(double value, int decimals);

// null where absent. Millimetres to 0.1 um, degrees to 0.0001, milliseconds to 1 us: far below what
// is measured.
[[nodiscard]] OrderedJson JsonMm(std::optional<Length> length);
[[nodiscard]] OrderedJson JsonMm(std::optional<double> mm);
[[nodiscard]] OrderedJson JsonDegrees(std::optional<Angle> angle);
[[nodiscard]] OrderedJson JsonMs(std::optional<Time> time);

}  // namespace nearpoint
