// A simulated patient drawn as pictures and measured from them by the tracker.
#pragma once

#include <vector>

#include "vision/core/distance_sample.h"
#include "vision/core/result.h"
#include "vision/simulate/patient.h"

namespace nearpoint {

// One sample a frame, to the end of the patient's script.
[[nodiscard]] Result<std::vector<DistanceSample>> TrackPatient(
    const simulate::PatientOptions& patient);

}  // namespace nearpoint
