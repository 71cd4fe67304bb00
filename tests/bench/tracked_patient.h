// A simulated patient drawn as pictures and measured from them by the tracker.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "vision/core/distance_sample.h"
#include "vision/core/result.h"
#include "vision/simulate/patient.h"

namespace nearpoint {

// One sample a frame, to the end of the patient's script.
[[nodiscard]] Result<std::vector<DistanceSample>> TrackPatient(
    const simulate::PatientOptions& patient);

// What the search for a drift is given of these samples, as CSV with one row a frame.
void WriteTrace(const std::string& file, std::span<const DistanceSample> samples);

}  // namespace nearpoint
