// Has the near point changed between two sessions? A difference counts as change only when it is
// larger than what repeats without change would give.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "app/measure/session_point.h"

namespace nearpoint {

// ISO 5725: 95 % of pairs of single repeats differ by less than this. 1.96 sqrt(2) s when the
// deviation is known well; with few degrees of freedom Student's t takes the place of 1.96.
[[nodiscard]] double RepeatabilityLimit(double repeatability_sd);
[[nodiscard]] double RepeatabilityLimit(double repeatability_sd, double degrees);

// How a person's values vary: from trial to trial in a session, and from day to day beyond that.
struct Variation {
  double within_sd = 0;
  double within_degrees = 0;  // 0: published, not this person's own
  double day_to_day_sd = 0;
  int sessions = 0;
};
// One-way analysis of variance with unequal session sizes (Searle, Linear Models 1971, chapter 11);
// a negative component is zero. nullopt without two sessions or without one that has two trials.
// For sessions between which nothing was treated: otherwise the effect counts as variation.
[[nodiscard]] std::optional<Variation> SeparateVariation(std::span<const SessionPoint> sessions);

// What is published, where the person's own is not known: 9.0 mm between sessions 90 days apart
// (from limits of agreement of 2.5 cm, Scheiman et al., Ophthalmic Physiol Opt 2025), of which 8 mm
// / sqrt(3) from trial to trial in three trials.
[[nodiscard]] Variation PublishedVariation();

enum class Change {
  kNearer,          // the near point came nearer by more than the limit
  kFarther,         // it went away by more than the limit
  kNoneShown,       // the difference is one that repeats give
  kOtherTimeOfDay,  // larger than the limit, but the hours differ: eyes tire over the day
  kCannotTell,      // one of the sessions has only a bound, and it does not decide
};
[[nodiscard]] std::string_view ToText(Change change);

struct ChangeResult {
  Change change = Change::kCannotTell;
  std::optional<double> difference_mm;  // later minus earlier; absent with a bound in either
  // The reliable change: 95 % of pairs of such sessions differ by less when nothing changed. Both
  // means' own deviations, the day-to-day deviation twice, and the calibrations where they differ.
  double limit_mm = 0;
  double day_to_day_sd_mm = 0;  // median of what is known of it
  bool own_day_to_day = false;  // this person's repeats went into it
  bool hours_differ = false;    // times of day more than three hours apart
};

// repeats: earlier sessions of this person between which nothing was treated; they may be empty,
// and then the published day-to-day deviation alone counts (DayToDayPrior). Few repeats tell their
// spread badly; the limit is integrated over what is left open, so it does not shrink by luck.
[[nodiscard]] ChangeResult CompareSessions(const SessionPoint& earlier, const SessionPoint& later,
                                           std::span<const SessionPoint> repeats = {});

}  // namespace nearpoint
