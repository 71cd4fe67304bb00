// How near this camera can measure this person.
#pragma once

#include "calibration/profile.h"
#include "vision/core/units.h"

namespace nearpoint {

// The shortest distance from the target to the corneal midpoint at which both irises show their
// centre and their nasal half inside the picture, for a head on the lens axis, eyes on the target.
// From the field of view, the target's place, the pupil distance and the iris diameter (population
// values where the profile has none). What is nearer cannot be measured with both eyes: a trial
// that gets here without doubling is censored here.
[[nodiscard]] Length ShortestMeasurableDistance(const Profile& profile);

}  // namespace nearpoint
