// Whether what was found are two eyes of one head that look at one target.
#pragma once

#include "vision/distance/head_fit.h"
#include "vision/tracking/scene.h"
#include "vision/tracking/seen_eyes.h"

namespace nearpoint {

// Vergence less than what the target asks, radians.
[[nodiscard]] double Apart(const HeadPose& pose);

[[nodiscard]] bool OnOneTarget(const Scene& scene, const HeadFit& fit);
// Eyes that are found afresh: more often than a large drift it is a pair of something else.
[[nodiscard]] bool FoundOnOneTarget(const Scene& scene, const HeadFit& fit);
// As far apart as in a large drift, or where two eyes are mistaken.
[[nodiscard]] bool OddlyApart(const HeadFit& fit);

// Two round things are not yet two eyes: lids and skin about both, a head and eyes that are not
// twisted, and rulers that agree. Both eyes must have been seen.
[[nodiscard]] bool LooksLikeAFace(const HeadFit& fit, const SeenEyes& seen);

// A head that is before the camera and roughly turned to it.
inline constexpr double kMaxTurnRad = 0.5;
[[nodiscard]] bool Plausible(const HeadFit& fit);

}  // namespace nearpoint
