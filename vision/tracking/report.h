// From the fitted head to what is told of a frame.
#pragma once

#include "vision/core/distance_sample.h"
#include "vision/distance/head_fit.h"
#include "vision/tracking/scene.h"
#include "vision/tracking/seen_eyes.h"

namespace nearpoint {

// Fills in distance, head and eyes. face: landmarks took part. regime_difference_mm: between the
// fits with and without a face where both are made; it widens what is told without one.
void Report(const Scene& scene, const HeadFit& fit, const SeenEyes& seen, bool face,
            double regime_difference_mm, DistanceSample* sample);

}  // namespace nearpoint
