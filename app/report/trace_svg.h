// The picture of a session: the distance over time with each trial's break and recovery and the
// band of the estimate.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/planes.h"
#include "app/measure/trial.h"
#include "vision/core/distance_sample.h"

namespace nearpoint {

struct TraceMark {
  Time time{};
  Length distance;  // from the corneal plane
};

// Where an eye was seen to leave the target and to come back to it, in one trial.
struct EyeMarks {
  std::optional<TraceMark> break_point, recovery;
};

struct TracePicture {
  std::string title;
  std::span<const DistanceSample>
      samples;                    // in the order of time; distances from the corneal plane
  std::span<const Trial> trials;  // from the corneal plane
  std::vector<EyeMarks> eyes;     // trial by trial; may be empty
  Estimate estimate;              // in `plane`
  ReferencePlane plane = ReferencePlane::kCorneal;  // what the axis counts from
  std::vector<Length>
      true_breaks;  // of a simulated patient, trial by trial, from the corneal plane; may be empty
};

// A complete SVG document of 1200 x 640 units. Told apart by shape as well as by colour, with
// colours that stay different without red-green vision: break a filled triangle pointing down,
// recovery an open one pointing up, both as reported; as seen in the eyes a filled diamond on a
// stem below the line and an open one above it, the stem's foot at the place; what does not count
// in grey. Where the distance is unknown the line is interrupted.
[[nodiscard]] std::string TraceSvg(const TracePicture& picture);

}  // namespace nearpoint
