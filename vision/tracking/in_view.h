// Whether the eyes of a head are inside the picture.
#pragma once

#include "vision/distance/head_fit.h"
#include "vision/tracking/scene.h"

namespace nearpoint {

// The middle of the iris and a third of its radius about it.
[[nodiscard]] bool InView(const Scene& scene, const HeadPose& pose, bool left);
// The whole iris.
[[nodiscard]] bool WholeInView(const Scene& scene, const HeadPose& pose, bool left);
[[nodiscard]] bool BothInView(const Scene& scene, const HeadPose& pose);

}  // namespace nearpoint
