// What a frame teaches of lenses whose power is not known.
#pragma once

#include <optional>

#include "vision/distance/head_fit.h"
#include "vision/tracking/scene.h"

namespace nearpoint {

// Lenses and a turn of both eyes change a picture alike, so the fit that lets an eye drift learns
// little of them. While the target is far and the eyes look at it as `fit` found them, this is the
// fit of the same measurements with eyes that fixate. The same fit where the lenses are known, or
// where the eyes do not look at the target.
[[nodiscard]] HeadFit FixatingFit(const Scene& scene, const HeadFit& fit,
                                  const HeadObservation& observation);

// The model with what a frame taught it; share: how much of a whole observation the frame counts.
// nullopt where nothing was learned that can be held.
[[nodiscard]] std::optional<HeadModel> Taught(const HeadModel& model, const HeadFit& fit,
                                              double share);

}  // namespace nearpoint
