// What a target at a distance asks of the two eyes.
#pragma once

#include "vision/core/units.h"

namespace nearpoint {

// From the spectacle plane to the centre of rotation, as in lens design; 13.5 mm from the corneal
// apex.
inline constexpr Length kSpectacleToRotation = Length::Millimeters(27);
inline constexpr Length kCorneaToRotation = Length::Millimeters(13.5);

// Below, pd > 0 is the pupil distance at infinity, x the target's distance from a plane, k that
// plane's distance from the centre of rotation; x + k > 0. The target is on the midline.

// The sum of the two eyes' tangents: 100 pd / (x + k).
[[nodiscard]] PrismDiopters ConvergenceDemand(Length pd, Length x, Length k);

// The angle between the two lines of sight: 2 atan(pd / (2 (x + k))).
[[nodiscard]] Angle ConvergenceAngle(Length pd, Length x, Length k);

// Metre angles, 1 / (x + k) in metres: the demand without the person's pupil distance.
[[nodiscard]] double MetreAngles(Length x, Length k);

// How much the demand changes per millimetre, negative: the nearer, the more a millimetre counts.
[[nodiscard]] PrismDiopters DemandPerMillimeter(Length pd, Length x, Length k);

// Where the target is that asks for this demand, from the plane; may be negative (behind it).
[[nodiscard]] Length DistanceOfDemand(Length pd, PrismDiopters demand, Length k);

}  // namespace nearpoint
