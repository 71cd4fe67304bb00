// How a measured number is rounded where it is shown: halves away from zero, as people do. 6.35 is
// not a number that a computer holds exactly, so each place that rounded by itself had its own
// answer.
#pragma once

#include <string>

namespace nearpoint {

// decimals: 0 to 6.
[[nodiscard]] double RoundedForShow(double value, int decimals);
// With a point, and no unit.
[[nodiscard]] std::string ShownNumber(double value, int decimals);
// "6.4 cm".
[[nodiscard]] std::string ShownCentimeters(double mm, int decimals = 1);

}  // namespace nearpoint
