// How late the program itself is: from drawing to light on the screen, and from light on the sensor
// to a frame's time stamp. Not measured but bounded from the rates, and stated.
#pragma once

#include <string>

#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

struct PipelineDelay {
  Time display{};  // middle of the bounds
  Time display_sd{};
  Time capture{};
  Time capture_sd{};
};

// Bounds, all from how such devices work (no source; our own reckoning). Display: at least half a
// refresh (the middle of the picture is drawn then), at most three (two in the compositor) and 15
// ms of the panel. Capture: half an exposure at least, at most an exposure of a whole frame, the
// read-out and transfer of a frame and one frame in the driver's queue. Within the bounds each
// value is as likely: deviation = width / sqrt(12). Errors: kBadValue for a rate outside 10 to 1000
// a second.
[[nodiscard]] Result<PipelineDelay> BoundPipelineDelay(double refreshes_per_second,
                                                       double frames_per_second);

// "The display adds 33 ms (deviation 16) ... ; not measured, bounded from 60 and 30 a second."
[[nodiscard]] std::string Statement(const PipelineDelay& delay);

}  // namespace nearpoint
