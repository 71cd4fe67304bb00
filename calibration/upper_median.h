// The middle of a handful of measurements.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace nearpoint {

// Of an even number, the upper of the middle two. values: not empty.
[[nodiscard]] inline double UpperMedian(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

}  // namespace nearpoint
