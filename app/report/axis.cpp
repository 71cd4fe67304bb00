#include "app/report/axis.h"

#include <cmath>

namespace nearpoint {

std::vector<double> RoundMarks(double low, double high, int wanted) {
  std::vector<double> marks;
  if (!std::isfinite(low) || !std::isfinite(high) || low >= high || wanted < 1) return marks;
  const double rough = (high - low) / wanted;
  const double decade = std::pow(10.0, std::floor(std::log10(rough)));
  double step = 10 * decade;
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * decade >= rough * (1 - 1e-9)) {
      step = factor * decade;
      break;
    }
  }
  const double slack = 1e-9 * step;
  for (double k = std::ceil((low - slack) / step); k * step <= high + slack; ++k) {
    marks.push_back(k * step + 0.0);
  }
  return marks;
}

}  // namespace nearpoint
