// The bridge of the nose at the height of the eyes: skin that stays where the eyes turn and when
// the lids close.
#pragma once

#include <opencv2/core.hpp>
#include <optional>

#include "vision/distance/head_fit.h"
#include "vision/eyes/skin_anchor.h"
#include "vision/tracking/channels.h"
#include "vision/tracking/scene.h"
#include "vision/tracking/seen_eyes.h"

namespace nearpoint {

struct SkinAnchor {
  SkinPatch patch;
  HeadPose pose;  // of its key frame
};

// Where the skin between the eyes went, added to `seen` when it is found. It carries the sideways
// place of the head, which the irises alone cannot tell from one eye turning.
void SeeAnchor(const Scene& scene, Channels& picture, const SkinAnchor& anchor,
               const HeadPose& expected, SeenEyes* seen);

// A new key frame when there is none or the old one has become too unlike in size; only from a
// pose that is well known.
void RenewAnchor(const Scene& scene, Channels& picture, const HeadFit& fit, const SeenEyes& seen,
                 std::optional<SkinAnchor>* anchor);

}  // namespace nearpoint
