// Where an axis has its marks.
#pragma once

#include <vector>

namespace nearpoint {

// Multiples of 1, 2 or 5 times a power of ten inside [low, high], about `wanted` of them (never
// more than twice as many). Empty unless low < high are finite and wanted >= 1.
[[nodiscard]] std::vector<double> RoundMarks(double low, double high, int wanted);

}  // namespace nearpoint
