// What is assumed of a face that nobody measured: the mean of people with the spread of people. The
// spread is what makes an uncalibrated distance honest: 3.6 % for the iris, 6 % for the pupil
// distance.
#pragma once

#include <string_view>
#include <vector>

#include "calibration/profile.h"

namespace nearpoint {

// Every field is set. Sources stand beside the values in population.cpp.
[[nodiscard]] FaceScale PopulationFace();

// face with each absent value replaced by the population's. A stated deviation below 0.01 mm
// becomes 0.01 mm: no length of a face is known better, and a zero would weigh infinitely.
[[nodiscard]] FaceScale WithPopulation(const FaceScale& face);

// The names, as in PROFILE.json, of the values that are absent from face and that WithPopulation
// fills.
[[nodiscard]] std::vector<std::string_view> FilledByPopulation(const FaceScale& face);

}  // namespace nearpoint
