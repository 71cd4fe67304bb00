// The part that track, measure and demo share: the frames of a source through the tracker, one
// sample a frame.
#pragma once

#include <functional>
#include <string>

#include "app/run/run_facts.h"
#include "app/run/setup_tracker.h"
#include "vision/camera/frame_source.h"
#include "vision/core/distance_sample.h"
#include "vision/core/result.h"

namespace nearpoint {

// Until the source ends, or the person stops it. take may refuse (a full disk): its error ends the
// run.
[[nodiscard]] Result<RunCounts> RunTracker(
    FrameSource& source, SetupTracker& tracker, const std::string& label,
    const std::function<Result<void>(const DistanceSample&)>& take);

}  // namespace nearpoint
