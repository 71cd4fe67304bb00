#include "app/measure/summary.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace nearpoint {

Summary Summarize(std::span<const double> values) {
  Summary s;
  s.n = static_cast<int>(values.size());
  if (s.n == 0) return s;
  const double n = s.n;
  double sum = 0;
  for (const double v : values) sum += v - values[0];
  s.mean = values[0] + sum / n;
  double squares = 0;
  double rest = 0;
  for (const double v : values) {
    squares += (v - s.mean) * (v - s.mean);
    rest += v - s.mean;
  }
  if (s.n > 1) s.sd = std::sqrt(std::max(0.0, squares - rest * rest / n) / (n - 1));
  return s;
}

AgreementLimits LimitsOfAgreement(std::span<const double> first, std::span<const double> second,
                                  double multiple) {
  std::vector<double> differences;
  for (std::size_t i = 0; i < first.size(); ++i) differences.push_back(first[i] - second[i]);
  const Summary s = Summarize(differences);
  return {s.mean, s.sd, s.mean - multiple * s.sd, s.mean + multiple * s.sd};
}

double WithinSubjectSd(std::span<const double> first, std::span<const double> second) {
  double squares = 0;
  for (std::size_t i = 0; i < first.size(); ++i)
    squares += (first[i] - second[i]) * (first[i] - second[i]);
  return std::sqrt(squares / (2 * static_cast<double>(first.size())));
}

}  // namespace nearpoint
