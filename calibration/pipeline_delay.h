// How late the program itself is: from drawing to light on the screen, and from light on the sensor
// to a frame's time stamp. The display is bounded from its rate; the camera is measured as far as
// its driver's stamps go, or bounded likewise. What is not measured is stated.
#pragma once

#include <span>
#include <string>

#include "vision/core/capture_stamp.h"
#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

struct PipelineDelay {
  Time display{};  // middle of the bounds
  Time display_sd{};
  Time capture{};
  Time capture_sd{};
  bool capture_measured = false;
};

// Bounds, all from how such devices work (no source; our own reckoning). Display: at least half a
// refresh (the middle of the picture is drawn then), at most three (two in the compositor) and 15
// ms of the panel. Capture: half an exposure at least, at most an exposure of a whole frame, the
// read-out and transfer of a frame and one frame in the driver's queue. Within the bounds each
// value is as likely: deviation = width / sqrt(12). Errors: kBadValue for a rate outside 10 to 1000
// a second.
[[nodiscard]] Result<PipelineDelay> BoundPipelineDelay(double refreshes_per_second,
                                                       double frames_per_second);

// What a camera does, from its stamps.
struct CaptureTiming {
  double frames_per_second = 0;  // as they came; a dim room slows a camera down
  Time delay{};                  // from the driver's stamp to the program, median
  Time delay_sd{};               // of one frame, robust
};
// In the order of their arrival. Errors: kInsufficient for fewer than 20 of them, kUnavailable
// where the driver's stamps are of another clock (after the arrival, or more than a second before
// it).
[[nodiscard]] Result<CaptureTiming> MeasureCapture(std::span<const CaptureStamp> stamps);

// With the camera measured. What is left to bound is the light against the driver's stamp: drivers
// of USB cameras stamp the start of an exposure or the arrival of the first packet (from memory of
// the Linux driver), so the middle of the exposure is within half a frame of it either way. Errors
// as above.
[[nodiscard]] Result<PipelineDelay> BoundPipelineDelay(double refreshes_per_second,
                                                       const CaptureTiming& camera);

// "The screen is taken to be 37 ms late (deviation 16) ...": what is measured and what is bounded.
[[nodiscard]] std::string Statement(const PipelineDelay& delay);
// The same for the profile: "screen 37 ms (16) bounded, camera 52 ms (12) measured".
[[nodiscard]] std::string StatementInShort(const PipelineDelay& delay);

}  // namespace nearpoint
