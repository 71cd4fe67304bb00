#include "app/measure/session_point.h"

#include <algorithm>
#include <cmath>

#include "app/measure/change.h"
#include "app/measure/observations.h"

namespace nearpoint {
namespace {

// The normal step with the same place and width as the chance that all trials were such bounds.
void SetStep(std::span<const Observation> bounds, SessionPoint& point) {
  constexpr double kOneDeviation = 0.15865525393145707;  // the normal's tail beyond one deviation
  point.censored = bounds.front().censoring;
  point.value_mm = LimitFromBounds(bounds, 0.5);
  point.sd_mm = 0.5 * std::abs(LimitFromBounds(bounds, kOneDeviation) -
                               LimitFromBounds(bounds, 1 - kOneDeviation));
}

}  // namespace

std::optional<SessionPoint> MakeSessionPoint(std::span<const Trial> trials,
                                             const SharedCalibration& shared, double day,
                                             std::optional<double> hour) {
  const std::vector<Observation> observations = BreakObservations(trials);
  if (observations.empty()) return std::nullopt;
  SessionPoint point;
  point.day = day;
  point.hour = hour;
  point.trials = static_cast<int>(observations.size());
  for (const Observation& o : observations) {
    if (o.censoring == Censoring::kNone) point.breaks_mm.push_back(o.value);
  }
  const Censoring first = observations.front().censoring;
  const bool one_sided =
      first != Censoring::kNone &&
      std::ranges::all_of(observations, [first](const auto& o) { return o.censoring == first; });
  if (one_sided) {
    SetStep(observations, point);
  } else {
    const Posterior posterior = IntegratePosterior(observations);
    point.value_mm = posterior.mean.mean();
    point.sd_mm = std::sqrt(posterior.mean.variance());
  }
  point.shared = shared;
  point.shared_sd_mm = EstimateNearPoint(trials, shared).shared_sd_mm;
  return point;
}

Observation ObservationOf(const SessionPoint& point, double position) {
  return {.value = point.value_mm,
          .variance = point.sd_mm * point.sd_mm,
          .position = position,
          .censoring = point.censored};
}

SpreadPrior DayToDayPrior() { return {.median_mm = PublishedVariation().day_to_day_sd}; }

bool SameTimeOfDay(const SessionPoint& a, const SessionPoint& b) {
  if (!a.hour || !b.hour) return true;
  const double apart = std::abs(*a.hour - *b.hour);
  return std::min(apart, 24 - apart) <= kSameTimeOfDayHours;
}

bool SameCalibration(const SessionPoint& a, const SessionPoint& b) {
  return a.shared.relative_sd == b.shared.relative_sd && a.shared.offset_sd == b.shared.offset_sd &&
         a.shared.lag_sd == b.shared.lag_sd;
}

}  // namespace nearpoint
