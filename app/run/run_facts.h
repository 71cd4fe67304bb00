// What a run of the tracker leaves to say: how many frames were seen, what a reader must know of
// them, and what all trials share.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/measure/estimate.h"
#include "app/run/setup_tracker.h"
#include "calibration/profile.h"
#include "vision/core/units.h"

namespace nearpoint {

// How near this camera can measure this person: a sentence to say before a trial.
[[nodiscard]] std::string ShortestDistanceSentence(const Profile& profile);

struct RunCounts {
  std::int64_t frames = 0;
  std::int64_t lost = 0;  // frames without a distance
  std::int64_t missing =
      0;  // frames that never came: dropped by a slow reader, missing or unreadable
  std::optional<Time> cut_off =
      std::nullopt;  // where a recording breaks off: the time of its last frame
};

// What a reader of the results must know of how they came about, in plain sentences.
[[nodiscard]] std::vector<std::string> CautionsOfRun(const Profile& profile,
                                                     const RunCounts& counts);

// The uncertainty that all trials of a session share.
[[nodiscard]] SharedCalibration SharedOf(const SetupTracker& tracker, const Profile& profile);

}  // namespace nearpoint
