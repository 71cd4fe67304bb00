// Evenly spaced numbers for loops over a range of values.
#pragma once

#include <vector>

namespace nearpoint {

// first, first + step, ... while smaller than end.
[[nodiscard]] inline std::vector<double> Steps(double first, double end, double step) {
  const int count = static_cast<int>((end - first) / step);
  std::vector<double> values;
  values.reserve(static_cast<std::size_t>(count) + 1);
  for (int i = 0; i <= count && first + i * step < end; ++i) values.push_back(first + i * step);
  return values;
}

}  // namespace nearpoint
