// The strip of both eyes of one frame: what a clinician may be shown of the moment of break, where
// the person agreed to that apart.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>

#include "vision/core/distance_sample.h"

namespace nearpoint {

// A grey JPEG, at most 320 pixels wide, level with the eyes: from the outer end of one eye opening
// to that of the other, and 1.6 irises high (19 mm; an eye opening is about 10 mm high, from
// memory). Brows, tip of the nose and mouth lie outside whatever the distance, since the iris gives
// the scale. bgr: 8 bits, three channels, as captured. nullopt: an eye was not seen, or the two are
// no pair of eyes.
[[nodiscard]] std::optional<std::string> CutEyeStrip(const cv::Mat& bgr,
                                                     const DistanceSample& sample);

}  // namespace nearpoint
