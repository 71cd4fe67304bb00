// Fills triangles of a grid mesh into a buffer of depth and grid coordinates.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "vision/simulate/head_mesh.h"

namespace nearpoint::simulate {

struct ScreenVertex {
  float x = 0, y = 0, z = 0;  // pixels, and millimetres from the lens
  bool usable = false;        // in front of the lens and where the distortion holds
};

// Depth 0 where nothing is; otherwise u and v are grid coordinates (column, row).
struct SurfaceBuffer {
  cv::Mat depth, u, v;  // CV_32F
  explicit SurfaceBuffer(cv::Size size) : depth(size, CV_32F), u(size, CV_32F), v(size, CV_32F) {}
};

// Draws rows [band.start, band.end) of the picture; bands may be drawn by different threads.
void RasterizeBand(const HeadMesh& mesh, const std::vector<ScreenVertex>& vertices,
                   const cv::Range& band, SurfaceBuffer& out);

}  // namespace nearpoint::simulate
