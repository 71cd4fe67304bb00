// Cuts the distance trace into trials at the reported events, and sets aside by written rules those
// that do not count.
#pragma once

#include <span>
#include <vector>

#include "app/measure/events.h"
#include "app/measure/trial.h"
#include "vision/core/distance_sample.h"
#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

struct SegmentOptions {
  // The person's response lag: percept to key press, and how much one press differs from the next.
  Time lag{};
  Time lag_sd{};

  // The distance at an event comes from a robust fit over this much before and after the corrected
  // moment (never across the reversal that follows a report). Long enough for 20 frames at 30 a
  // second, short enough that a hand's speed hardly changes.
  Time fit_before = FromMilliseconds(500);
  Time fit_after = FromMilliseconds(400);

  // kTrackingLost: at least one frame with a distance this near to the corrected moment, since at
  // 20 mm/s the target moves 5 mm in it; and this fraction of the fit's frames with a distance.
  Time nearest_valid = FromMilliseconds(250);
  double min_valid_fraction = 0.5;

  // kTooFast: the rule asks for 10 to 20 mm/s. At 50 mm/s a lag known to 60 ms costs 3 mm, and the
  // near point itself reads nearer with speed (McGinnis et al., J Eye Mov Res 2019;12(4): 6.7 cm at
  // 10 mm/s, 5.4 cm at 50 mm/s).
  Speed max_speed_at_event = Speed::MillimetersPerSecond(50);
  Speed max_mean_speed = Speed::MillimetersPerSecond(30);  // over the last stretch of the approach
  Length last_stretch = Length::Millimeters(100);

  // kNoApproach: a fall smaller than this is sway of the head, not an approach.
  Length min_approach = Length::Millimeters(50);
  // kResponseEarly: the approach has begun once the distance fell by this much from the start.
  Length approach_begun = Length::Millimeters(10);
  // A "double" before the distance fell by this much (corrected) was there from the start: the
  // trial is censored above.
  Length double_from_start = Length::Millimeters(50);

  // An event may precede the first frame, or a start follow the last, by this much (a camera that
  // starts late).
  Time clock_slack = FromMilliseconds(100);
};

// Samples and events in time order, on the same clock; samples in any mode (lost ones mark where
// nothing is known). The order within a trial: trial_start, then either no_double, or double and
// single in turn, then trial_end; the break is the first double, the recovery the last single. A
// trial still open at the end of the events ends there. Errors: kInsufficient without samples;
// kBadValue when times go back, when an event stands outside a trial or out of order, or before the
// first or after the last sample. The sentence names the event by its number from 1.
[[nodiscard]] Result<std::vector<Trial>> SegmentTrials(std::span<const DistanceSample> samples,
                                                       std::span<const Event> events,
                                                       const SegmentOptions& options = {});

}  // namespace nearpoint
