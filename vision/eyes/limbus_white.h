// Whether white of the eye lies beyond an edge. Inner parts of limbus_fit.h.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "vision/eyes/limbus_edge.h"
#include "vision/eyes/limbus_rays.h"

namespace nearpoint::limbus {

// Blue and red of the same patch.
struct Colours {
  Patch blue, red;
};

[[nodiscard]] std::optional<Colours> CutColours(const cv::Mat& bgr, const LimbusEllipse& guess,
                                                double reach);

// In strong convergence the nasal limbus lies against the corner of the eye: the edge found there
// may be that of flesh and skin. White lies beyond a true limbus, measured against the best quarter
// of this eye's own edges.
// wide: 0..1, how far compression leaves colour beside the iris. Sets `trust` of each edge.
void TrustWhite(const Colours& colours, const Eigen::Vector2d& centre,
                const std::array<Ray, kRays>& rays, double wide, std::vector<EdgePoint>* edges);

}  // namespace nearpoint::limbus
