// The part that track, measure and demo share: frames of a source through the tracker, one sample a
// frame.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "app/cli/setup_tracker.h"
#include "app/measure/estimate.h"
#include "calibration/profile.h"
#include "vision/camera/frame_source.h"
#include "vision/core/distance_sample.h"
#include "vision/core/result.h"

namespace nearpoint {

// Finds and verifies the model and loads it: about half a second.
[[nodiscard]] Result<SetupTracker> MakeTracker(const Profile& profile,
                                               const TrackerOptions& options = {});

// How near this camera can measure this person: a sentence to say before a trial.
[[nodiscard]] std::string ShortestDistanceSentence(const Profile& profile);

struct RunCounts {
  std::int64_t frames = 0;
  std::int64_t lost = 0;  // frames without a distance
  std::int64_t missing =
      0;  // frames that never came: dropped by a slow reader, missing or unreadable
};

// Until the source ends, or the person stops it. take may refuse (a full disk): its error ends the
// run.
[[nodiscard]] Result<RunCounts> RunTracker(
    FrameSource& source, SetupTracker& tracker, const std::string& label,
    const std::function<Result<void>(const DistanceSample&)>& take);

// What a reader of the results must know of how they came about, in plain sentences.
[[nodiscard]] std::vector<std::string> CautionsOfRun(const Profile& profile,
                                                     const RunCounts& counts);

// The uncertainty that all trials of a session share.
[[nodiscard]] SharedCalibration SharedOf(const SetupTracker& tracker, const Profile& profile);

}  // namespace nearpoint
