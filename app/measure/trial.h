// One approach and withdrawal, cut out of the distance trace by the events.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/measure/events.h"
#include "vision/core/distance_sample.h"
#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

enum class Censoring {
  kNone,
  kBelow,  // single down to the shortest distance: the break is at most the stated value
  kAbove,  // double from the start: the break is at least the stated value
};
// "" for kNone, "below", "above": the words of the file.
[[nodiscard]] std::string_view ToText(Censoring censoring);

// Why a trial does not count. The sentence is what the file and the person get.
enum class SetAside {
  kTooFast,        // approach faster than the rule allows
  kTrackingLost,   // no distance known around the event
  kNoApproach,     // the distance never fell enough
  kResponseEarly,  // response before the approach began
  kNoResponse,     // neither "double" nor "no_double"
  kNotLooking,     // the eyes did not follow the target
  kOneEyeCovered,  // one eye was shut or covered for most of the approach
  kByHand,         // for a reason in the words of a person, Trial.set_aside_words
};
[[nodiscard]] std::string_view ToText(SetAside reason);
[[nodiscard]] std::optional<SetAside> ParseSetAside(std::string_view text);

// A distance at an event, corrected for the person's response lag, beside the value before that
// correction.
struct EventDistance {
  Time time{};            // of the report
  UncertainLength value;  // corrected; the deviation carries tracking, lag and speed, not the
                          // shared calibration
  Length uncorrected;     // where the target was when the key went down
  Speed speed;            // at the corrected time; signed, negative while coming nearer
};

struct Trial {
  int number = 0;  // from 1
  Time start{}, end{};
  std::optional<EventDistance> break_point;
  std::optional<EventDistance> recovery;
  Censoring censored = Censoring::kNone;
  std::optional<Length> limit;  // for a censored trial: the distance that bounds the break
  std::optional<Length> objective_break, objective_recovery;
  std::optional<Speed> approach_speed;  // mean magnitude over the last stretch of the approach
  std::optional<SetAside> set_aside;
  std::string set_aside_words;           // only with kByHand
  std::optional<Length> start_distance;  // where the approach began
  std::optional<Length> nearest;         // the nearest distance reached before the first response
  double valid_fraction = 0;             // of the trial's frames, those with a distance
};

// The reason of a trial that is set aside, as the file and the person get it; "" when it counts.
[[nodiscard]] std::string SetAsideText(const Trial& trial);

}  // namespace nearpoint
