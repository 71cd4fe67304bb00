#include "app/measure/change.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "app/measure/student_t.h"
#include "app/measure/summary.h"

namespace nearpoint {
namespace {

constexpr double kZ = 1.959963984540054;
constexpr double kSameTimeOfDay = 3;  // hours

std::optional<double> MeanOf(const SessionBreaks& session) {
  if (session.mean_mm) return session.mean_mm;
  if (session.breaks_mm.empty()) return std::nullopt;
  return Summarize(session.breaks_mm).mean;
}

double Count(const SessionBreaks& session) {
  return std::max<double>(1, static_cast<double>(session.breaks_mm.size()));
}

}  // namespace

double RepeatabilityLimit(double repeatability_sd) {
  return kZ * std::numbers::sqrt2 * repeatability_sd;
}

double RepeatabilityLimit(double repeatability_sd, double degrees) {
  return StudentTQuantile(0.975, degrees) * std::numbers::sqrt2 * repeatability_sd;
}

std::optional<Variation> SeparateVariation(std::span<const SessionBreaks> sessions) {
  double total = 0, sum = 0, count_squares = 0, within = 0;
  int groups = 0;
  for (const SessionBreaks& session : sessions) {
    if (session.breaks_mm.empty()) continue;
    const Summary s = Summarize(session.breaks_mm);
    ++groups;
    total += s.n;
    sum += s.n * s.mean;
    count_squares += static_cast<double>(s.n) * s.n;
    within += (s.n - 1) * s.sd * s.sd;
  }
  const double degrees = total - groups;
  if (groups < 2 || degrees < 1) return std::nullopt;
  const double grand = sum / total;
  double between = 0;
  for (const SessionBreaks& session : sessions) {
    if (session.breaks_mm.empty()) continue;
    const Summary s = Summarize(session.breaks_mm);
    between += s.n * (s.mean - grand) * (s.mean - grand);
  }
  const double within_square = within / degrees;
  const double between_square = between / (groups - 1);
  const double usual_count = (total - count_squares / total) / (groups - 1);
  return Variation{
      .within_sd = std::sqrt(within_square),
      .within_degrees = degrees,
      .day_to_day_sd = std::sqrt(std::max(0.0, (between_square - within_square) / usual_count)),
      .sessions = groups};
}

Variation PublishedVariation() {
  constexpr double kWithin = 8;
  const double session = 25 / (kZ * std::numbers::sqrt2);
  return {.within_sd = kWithin,
          .within_degrees = 0,
          .day_to_day_sd = std::sqrt(session * session - kWithin * kWithin / 3),
          .sessions = 0};
}

std::string_view ToText(Change change) {
  switch (change) {
    case Change::kNearer:
      return "the near point came nearer";
    case Change::kFarther:
      return "the near point went farther away";
    case Change::kNoneShown:
      return "no change beyond what repeats give";
    case Change::kCannotTell:
      return "cannot tell";
  }
  return "";
}

ChangeResult CompareSessions(const SessionBreaks& earlier, const SessionBreaks& later,
                             const Variation& variation, double calibration_sd) {
  ChangeResult result;
  if (earlier.hour && later.hour) {
    const double apart = std::abs(*earlier.hour - *later.hour);
    result.hours_differ = std::min(apart, 24 - apart) > kSameTimeOfDay;
  }
  const std::optional<double> before = MeanOf(earlier);
  const std::optional<double> after = MeanOf(later);
  if (!before || !after) return result;
  result.difference_mm = *after - *before;
  const double within = variation.within_sd * variation.within_sd;
  const double day = variation.day_to_day_sd * variation.day_to_day_sd;
  result.limit_mm = kZ * std::sqrt(within / Count(earlier) + within / Count(later) + 2 * day +
                                   2 * calibration_sd * calibration_sd);
  if (std::abs(*result.difference_mm) <= *result.limit_mm) {
    result.change = Change::kNoneShown;
  } else {
    result.change = *result.difference_mm < 0 ? Change::kNearer : Change::kFarther;
  }
  return result;
}

}  // namespace nearpoint
