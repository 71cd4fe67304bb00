// From the frames of a recording and the patient's reports to the session: the path that measure
// and demo share.
#pragma once

#include <span>

#include "app/measure/events.h"
#include "app/records/session_json.h"
#include "app/session/estimate_options.h"
#include "calibration/profile.h"
#include "vision/core/distance_sample.h"
#include "vision/core/result.h"

namespace nearpoint {

// The trials, what the eyes say of each, whether both tell the same story, and the estimate over
// the trials that count: a trial in which the patient did not look with both eyes does not. Samples
// and events in time order on the same clock, lost frames included. Source, counts of frames and
// cautions are the caller's to fill. Errors: those of SegmentTrials.
[[nodiscard]] Result<Session> MakeSession(std::span<const DistanceSample> samples,
                                          std::span<const Event> events, const Profile& profile,
                                          const SharedCalibration& shared,
                                          const EstimateArguments& arguments);

}  // namespace nearpoint
