// Where the limbus crosses each ray, and what moves a blurred edge put right. Inner parts of
// limbus_fit.h.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "vision/eyes/limbus_rays.h"

namespace nearpoint::limbus {

struct EdgePoint {
  std::size_t ray = 0;
  int peak = 0;         // bin where the brightness rises fastest
  double bin = 0;       // where the edge lies, in bins
  double width = 0;     // standard deviation of the transition, in bins
  double radius = 0;    // semi-major pixels of the patch
  double blur = 0;      // the width along the ray, patch pixels
  double contrast = 0;  // 8-bit steps across the edge
  double trust = 1;     // 0..1: whether white of the eye lies beyond
  bool sliver = false;  // the white beyond ends within a few widths
  double belongs = 1;   // 0..1: whether it is the limbus's
  double weight = 1;    // the same, less where its arc is poor
};

// The transition nearest to `expected` on ray r, within `window` (both patch pixels of radius).
// min_contrast: 8-bit steps. nullopt when there is none.
[[nodiscard]] std::optional<EdgePoint> FindEdge(const Unrolled& u, std::size_t r, double expected,
                                                double window, double min_contrast);

// Takes out of every edge what slivers of white, darkening white and a dark rim of the iris do to
// it; fills in radius and blur. semi_major_px: size of the iris in picture pixels.
void CorrectEdges(const Unrolled& u, const std::array<Ray, kRays>& rays, double semi_major_px,
                  double min_contrast, std::vector<EdgePoint>* edges);

// 0..1: how far the white beside an iris of this size (picture pixels) is wide enough to be looked
// into: beside a small one it is a few pixels, over which compression also blurs colour.
[[nodiscard]] double WhiteIsWide(double semi_major_px);

[[nodiscard]] double Median(std::vector<double> v);

}  // namespace nearpoint::limbus
