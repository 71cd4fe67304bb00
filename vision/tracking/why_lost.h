// Why a frame tells no distance, by what is seen of the lids.
#pragma once

#include <optional>

#include "vision/core/distance_sample.h"
#include "vision/tracking/channels.h"
#include "vision/tracking/scene.h"
#include "vision/tracking/seen_eyes.h"

namespace nearpoint {

// What was tried in the frame.
struct LookedAt {
  std::optional<HeadPose> expected;  // of a head that is followed
  SeenEyes eyes;                     // readings where eyes were expected or found
  bool face = false;                 // a face was found
};

[[nodiscard]] LostReason WhyLost(const Scene& scene, Channels& picture, const LookedAt& looked);

}  // namespace nearpoint
