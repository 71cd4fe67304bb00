// One line of the track: schema "nearpoint/track/1".
#pragma once

#include <string>

#include "vision/core/distance_sample.h"

namespace nearpoint {

// A JSON object in one line, without the newline. Every field of the contract is there; what is
// unknown is null.
[[nodiscard]] std::string TrackLine(const DistanceSample& sample);

}  // namespace nearpoint
