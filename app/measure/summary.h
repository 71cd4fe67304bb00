// Mean and deviation of a list of numbers, and of paired ones.
#pragma once

#include <span>

namespace nearpoint {

struct Summary {
  int n = 0;
  double mean = 0;
  double sd = 0;  // divisor n - 1; 0 for fewer than two
};
// Two passes, the second corrected: exact to rounding even where the mean is 1e8 deviations away.
[[nodiscard]] Summary Summarize(std::span<const double> values);

// Bland & Altman, Lancet 1986;i:307-310: mean difference first - second, and mean -+ `multiple`
// deviations.
struct AgreementLimits {
  double mean_difference = 0;
  double sd = 0;
  double low = 0;
  double high = 0;
};
// Both of the same length, at least 2.
[[nodiscard]] AgreementLimits LimitsOfAgreement(std::span<const double> first,
                                                std::span<const double> second,
                                                double multiple = 1.96);

// Within-subject deviation of pairs of repeats: sqrt(sum d^2 / 2n).
[[nodiscard]] double WithinSubjectSd(std::span<const double> first, std::span<const double> second);

}  // namespace nearpoint
