// Has the near point changed between two sessions? A difference counts as change only when it is
// larger than what repeats without change would give.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "vision/core/units.h"

namespace nearpoint {

// ISO 5725: 95 % of pairs of single repeats differ by less than this. 1.96 sqrt(2) s when the
// deviation is known well; with few degrees of freedom Student's t takes the place of 1.96.
[[nodiscard]] double RepeatabilityLimit(double repeatability_sd);
[[nodiscard]] double RepeatabilityLimit(double repeatability_sd, double degrees);

// One session's break, as plain numbers.
struct SessionBreaks {
  double day = 0;                 // days since any fixed day
  std::optional<double> hour;     // of the local day, 0..24: eyes tire, so compare like with like
  std::vector<double> breaks_mm;  // uncensored, usable trials, from the corneal plane
  std::optional<double>
      mean_mm;  // of the estimate, when bounds count too; else the mean of the above
};

// How a person's values vary: from trial to trial in a session, and from day to day beyond that.
struct Variation {
  double within_sd = 0;
  double within_degrees = 0;
  double day_to_day_sd = 0;
  int sessions = 0;
};
// One-way analysis of variance with unequal session sizes (Searle, Linear Models 1971, chapter 11);
// a negative component is zero. nullopt without two sessions or without one that has two trials.
// For sessions between which nothing was treated: otherwise the effect counts as variation.
[[nodiscard]] std::optional<Variation> SeparateVariation(std::span<const SessionBreaks> sessions);

// What is published, where the person's own is not known: 9.0 mm between sessions 90 days apart
// (from limits of agreement of 2.5 cm, Scheiman et al., Ophthalmic Physiol Opt 2025), of which 8 mm
// / sqrt(3) from trial to trial in three trials.
[[nodiscard]] Variation PublishedVariation();

enum class Change {
  kNearer,      // the near point came nearer by more than the limit
  kFarther,     // it went away by more than the limit
  kNoneShown,   // the difference is one that repeats give
  kCannotTell,  // a session without a value
};
[[nodiscard]] std::string_view ToText(Change change);

struct ChangeResult {
  Change change = Change::kCannotTell;
  std::optional<double> difference_mm;  // later minus earlier
  std::optional<double>
      limit_mm;  // the reliable change: 1.96 sqrt(w^2/k1 + w^2/k2 + 2 d^2 + calibrations)
  bool hours_differ = false;  // times of day more than three hours apart
};
// calibration_sd: one deviation of what is wrong by a different amount in the two sessions; 0 when
// both used one calibration, whose error then falls out of the difference.
[[nodiscard]] ChangeResult CompareSessions(const SessionBreaks& earlier, const SessionBreaks& later,
                                           const Variation& variation, double calibration_sd = 0);

}  // namespace nearpoint
