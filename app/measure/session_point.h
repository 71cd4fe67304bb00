// A whole session as one value: what comparing sessions and the course over weeks start from.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/likelihood.h"
#include "app/measure/posterior.h"
#include "app/measure/trial.h"

namespace nearpoint {

// The break of one session, from the corneal plane.
struct SessionPoint {
  double day = 0;              // days since any fixed day, with the part of the day
  std::optional<double> hour;  // of the local day, 0 <= hour < 24; absent: unknown
  int trials = 0;              // that count, bounds included
  // The mean and its deviation from the trials alone, without the calibration. When every trial was
  // a bound (`censored`), the place and the width of the step at which such bounds stop being
  // likely.
  double value_mm = 0;
  double sd_mm = 0;
  Censoring censored = Censoring::kNone;
  std::vector<double> breaks_mm;  // of the trials that doubled
  SharedCalibration shared;
  double shared_sd_mm = 0;  // of this session's value: alike in all its trials
};

// Absent when no trial counts.
[[nodiscard]] std::optional<SessionPoint> MakeSessionPoint(std::span<const Trial> trials,
                                                           const SharedCalibration& shared,
                                                           double day, std::optional<double> hour);

// The session as one value of a likelihood whose "between" is from day to day.
[[nodiscard]] Observation ObservationOf(const SessionPoint& point, double position);

// What is known of a person's day-to-day deviation before any of their sessions: lognormal, median
// 7.7 mm, 0.55 of the logarithm. From limits of agreement of 2.5 cm between two sessions 90 days
// apart (Scheiman et al., Ophthalmic Physiol Opt 2025, doi 10.1111/opo.70022): 9.0 mm within a
// person, of which 8 mm / sqrt(3) is the trials' own. The width is that of posterior.h.
[[nodiscard]] SpreadPrior DayToDayPrior();

// The sessions of one person differ by the hour too: eyes tire over the day, so a session counts as
// repeated at the same time of day within this many hours (common practice, no source).
inline constexpr double kSameTimeOfDayHours = 3;
[[nodiscard]] bool SameTimeOfDay(const SessionPoint& a, const SessionPoint& b);  // unknown: true

// Whether two sessions share their calibration, so that its error falls out of a difference: told
// by its numbers, which two different profiles hardly have in common.
[[nodiscard]] bool SameCalibration(const SessionPoint& a, const SessionPoint& b);

}  // namespace nearpoint
