#include "app/measure/change.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "app/measure/mixture.h"
#include "app/measure/posterior.h"
#include "app/measure/student_t.h"
#include "app/measure/summary.h"

namespace nearpoint {
namespace {

constexpr double kZ = 1.959963984540054;

// The difference of two sessions without a change, over what is known of the day-to-day deviation.
struct NoChange {
  Mixture difference;
  double day_to_day_median = 0;
};

NoChange WithoutChange(std::span<const SessionPoint> repeats, double own_variance) {
  std::vector<Observation> observations;
  for (const SessionPoint& point : repeats) observations.push_back(ObservationOf(point, 0));
  PosteriorOptions options;
  options.spread = DayToDayPrior();
  options.slope_sd = 0;
  const bool tells =
      std::ranges::any_of(repeats, [](const SessionPoint& p) { return !p.breaks_mm.empty(); });
  // One value tells nothing of a spread: the prior comes back.
  if (!tells) observations.assign(1, Observation());
  const Posterior posterior = IntegratePosterior(observations, options);
  NoChange result;
  result.day_to_day_median = posterior.between_sd_median;
  for (const auto& [tau, weight] : posterior.between_sd) {
    result.difference.AddNormal(weight, 0, std::sqrt(own_variance + 2 * tau * tau));
  }
  return result;
}

}  // namespace

double RepeatabilityLimit(double repeatability_sd) {
  return kZ * std::numbers::sqrt2 * repeatability_sd;
}

double RepeatabilityLimit(double repeatability_sd, double degrees) {
  return StudentTQuantile(0.975, degrees) * std::numbers::sqrt2 * repeatability_sd;
}

std::optional<Variation> SeparateVariation(std::span<const SessionPoint> sessions) {
  double total = 0, sum = 0, count_squares = 0, within = 0;
  int groups = 0;
  for (const SessionPoint& session : sessions) {
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
  for (const SessionPoint& session : sessions) {
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
    case Change::kOtherTimeOfDay:
      return "a difference between two times of day, not called a change";
    case Change::kCannotTell:
      return "cannot tell";
  }
  return "";
}

ChangeResult CompareSessions(const SessionPoint& earlier, const SessionPoint& later,
                             std::span<const SessionPoint> repeats) {
  double own = 0;
  for (const SessionPoint* point : {&earlier, &later}) {
    // The step of a bound is part of the bound, not of a value's scatter.
    if (point->censored == Censoring::kNone) own += point->sd_mm * point->sd_mm;
    if (!SameCalibration(earlier, later)) own += point->shared_sd_mm * point->shared_sd_mm;
  }
  const NoChange without = WithoutChange(repeats, own);
  ChangeResult result;
  result.limit_mm = without.difference.Quantile(0.975);
  result.day_to_day_sd_mm = without.day_to_day_median;
  result.own_day_to_day = repeats.size() >= 2;
  result.hours_differ = !SameTimeOfDay(earlier, later);

  // What the difference is at least and at most: one number, unless a session is only a bound.
  constexpr double kUnbounded = std::numeric_limits<double>::infinity();
  const auto low = [](const SessionPoint& p) {
    return p.censored == Censoring::kBelow ? -kUnbounded : p.value_mm;
  };
  const auto high = [](const SessionPoint& p) {
    return p.censored == Censoring::kAbove ? kUnbounded : p.value_mm;
  };
  const double least = low(later) - high(earlier);
  const double most = high(later) - low(earlier);
  const bool bound = earlier.censored != Censoring::kNone || later.censored != Censoring::kNone;
  if (!bound) result.difference_mm = later.value_mm - earlier.value_mm;
  if (most < -result.limit_mm || least > result.limit_mm) {
    result.change = most < 0 ? Change::kNearer : Change::kFarther;
    if (result.hours_differ) result.change = Change::kOtherTimeOfDay;
  } else {
    result.change = bound ? Change::kCannotTell : Change::kNoneShown;
  }
  return result;
}

}  // namespace nearpoint
