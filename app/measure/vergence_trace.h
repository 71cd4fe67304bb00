// The frames of a trial in which both eyes were seen on the target, as plain numbers, and what was
// left out and why. Blinks, glances away from the target and single wild frames never reach the
// search for a drift.
#pragma once

#include <span>
#include <vector>

#include "vision/core/distance_sample.h"
#include "vision/core/units.h"

namespace nearpoint {

struct VergenceFrame {
  double time_s = 0;  // from the first sample given
  double vergence_deg = 0;
  double left_deg = 0;  // horizontal rotation, positive toward the nose
  double right_deg = 0;
  double vertical_deg = 0;  // mean of both eyes
  double demand_deg = 0;
  double distance_mm = 0;
  double reported_sd_deg = 0;  // of the vergence, as the tracker states it; 0 if it does not
  double split_sd_deg = 0;     // of left less right, from what it states for each eye and the sum
  double yaw_deg = 0;          // of the head; 0 if unknown
  double pitch_deg = 0;
  double sideways = 0;  // eyes beside the lens axis, over the distance of their centres of rotation
  double upward = 0;
};

struct VergenceTrace {
  std::vector<VergenceFrame> frames;  // in time order
  Time origin{};                      // time_s = 0
  int near_blink = 0;                 // frames left out, by reason
  int looked_away = 0;
  int head_turned = 0;
  int wild = 0;
  [[nodiscard]] Time ToTime(double time_s) const { return origin + FromMilliseconds(1e3 * time_s); }
};

struct TraceOptions {
  // Lids on their way cover the limbus: a lid moves for 70 to 100 ms to either side of a blink.
  Time blink_margin = FromMilliseconds(80);
  // A glance moves both eyes together. A drift of x moves their mean direction by x / 2 sideways
  // and hardly up or down, so these are beyond any drift that is looked for.
  Angle glance_vertical = Angle::Degrees(8);
  Angle glance_sideways = Angle::Degrees(10);
  Time glance_margin = FromMilliseconds(80);
  Angle max_yaw = Angle::Degrees(25);  // beyond it the far eye is foreshortened
  // A frame this many robust deviations, and at least this far, from the median of its neighbours.
  double wild_deviations = 4.5;
  Angle wild_least = Angle::Degrees(1);
};

[[nodiscard]] VergenceTrace CleanTrace(std::span<const DistanceSample> samples,
                                       const TraceOptions& options = {});

}  // namespace nearpoint
