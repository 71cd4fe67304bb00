#include "app/guide/lag.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace nearpoint {
namespace {

constexpr double kFastestMs = 100;
constexpr double kSlowestMs = 1500;
constexpr std::size_t kLeast = 5;
constexpr double kNormalPerMad = 1.4826;
// A screen and a keyboard each add some; and a spread of zero would be believed too much.
constexpr double kSmallestSdMs = 20;

double Median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  if (values.size() % 2 == 1) return *middle;
  return (*middle + *std::max_element(values.begin(), middle)) / 2;
}

}  // namespace

std::optional<LagEstimate> LagFromTimes(std::span<const double> times_ms) {
  std::vector<double> usable;
  std::ranges::copy_if(times_ms, std::back_inserter(usable),
                       [](double ms) { return ms >= kFastestMs && ms <= kSlowestMs; });
  if (usable.size() < kLeast) return std::nullopt;
  const double median = Median(usable);
  std::vector<double> away;
  away.reserve(usable.size());
  for (const double ms : usable) away.push_back(std::abs(ms - median));
  const double spread = kNormalPerMad * Median(away);
  if (spread > median / 2) return std::nullopt;
  const double sd = std::hypot(spread, spread / std::sqrt(static_cast<double>(usable.size())));
  return LagEstimate{FromMilliseconds(median), FromMilliseconds(std::max(sd, kSmallestSdMs))};
}

}  // namespace nearpoint
