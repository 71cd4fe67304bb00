// What a reader of the results must know of the glasses that were worn, in plain sentences.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "calibration/profile.h"
#include "vision/core/distance_sample.h"

namespace nearpoint {

// A scale that belongs to the other state of the glasses, a strength that nobody gave, and what the
// model of a thin lens leaves out: an addition, a prism, a strong cylinder. Empty where nobody said
// anything of glasses.
[[nodiscard]] std::vector<std::string> GlassesCautions(const FaceScale& face);

// What the frames told of the lenses, in one sentence; empty where they told nothing, or nothing
// that was not known.
[[nodiscard]] std::string LensesSeenSentence(const FaceScale& face,
                                             const std::optional<LensEstimate>& right,
                                             const std::optional<LensEstimate>& left);

}  // namespace nearpoint
