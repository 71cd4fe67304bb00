#include "vision/simulate/rasterizer.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace nearpoint::simulate {
namespace {

struct Corner {
  const ScreenVertex* at;
  float u, v;
};

// Value = a x + b y + c over the picture.
struct Plane {
  float a, b, c;
  [[nodiscard]] float At(float x, float y) const { return a * x + b * y + c; }
};

void Fill(std::array<Corner, 3> t, const cv::Range& band, SurfaceBuffer& out) {
  const float x0 = t[0].at->x;
  const float y0 = t[0].at->y;
  float area = (t[1].at->x - x0) * (t[2].at->y - y0) - (t[2].at->x - x0) * (t[1].at->y - y0);
  if (std::abs(area) < 1e-9F) return;
  if (area < 0) {
    std::swap(t[1], t[2]);
    area = -area;
  }
  const float low = std::min({t[0].at->y, t[1].at->y, t[2].at->y});
  const float high = std::max({t[0].at->y, t[1].at->y, t[2].at->y});
  const int first = std::max(band.start, static_cast<int>(std::ceil(low)));
  const int last = std::min(band.end - 1, static_cast<int>(std::floor(high)));
  if (first > last) return;

  const float dx1 = t[1].at->x - x0;
  const float dy1 = t[1].at->y - y0;
  const float dx2 = t[2].at->x - x0;
  const float dy2 = t[2].at->y - y0;
  const auto plane = [&](float f0, float f1, float f2) {
    const float d1 = f1 - f0;
    const float d2 = f2 - f0;
    const float a = (d1 * dy2 - d2 * dy1) / area;
    const float b = (d2 * dx1 - d1 * dx2) / area;
    return Plane{a, b, f0 - a * x0 - b * y0};
  };
  const Plane depth = plane(t[0].at->z, t[1].at->z, t[2].at->z);
  const Plane u = plane(t[0].u, t[1].u, t[2].u);
  const Plane v = plane(t[0].v, t[1].v, t[2].v);

  const int width = out.depth.cols;
  for (int y = first; y <= last; ++y) {
    const auto fy = static_cast<float>(y);
    float left = -1e9F;
    float right = 1e9F;
    for (int e = 0; e < 3; ++e) {
      const ScreenVertex& p = *t[static_cast<std::size_t>(e)].at;
      const ScreenVertex& q = *t[static_cast<std::size_t>((e + 1) % 3)].at;
      const float rise = q.y - p.y;
      if (rise == 0) continue;
      const float x = p.x + (fy - p.y) * (q.x - p.x) / rise;
      // With positive area (y down) edges that rise in y bound the right side.
      if (rise > 0) {
        right = std::min(right, x);
      } else {
        left = std::max(left, x);
      }
    }
    constexpr float kSeam = 1e-3F;  // neighbours share their border pixels; depth decides
    const int from = std::max(0, static_cast<int>(std::ceil(left - kSeam)));
    const int to = std::min(width - 1, static_cast<int>(std::floor(right + kSeam)));
    float* depth_row = out.depth.ptr<float>(y);
    float* u_row = out.u.ptr<float>(y);
    float* v_row = out.v.ptr<float>(y);
    for (int x = from; x <= to; ++x) {
      const auto fx = static_cast<float>(x);
      const float z = depth.At(fx, fy);
      if (depth_row[x] != 0 && depth_row[x] <= z) continue;
      depth_row[x] = z;
      u_row[x] = u.At(fx, fy);
      v_row[x] = v.At(fx, fy);
    }
  }
}

}  // namespace

void RasterizeBand(const HeadMesh& mesh, const std::vector<ScreenVertex>& vertices,
                   const cv::Range& band, SurfaceBuffer& out) {
  out.depth.rowRange(band).setTo(0);
  const auto below = static_cast<float>(band.start);
  const auto above = static_cast<float>(band.end - 1);
  const auto width = static_cast<float>(out.depth.cols - 1);
  for (const Chart& chart : mesh.charts) {
    for (int row = chart.row0; row + 1 < chart.row1; ++row) {
      for (int col = chart.col0; col + 1 < chart.col1; ++col) {
        const ScreenVertex& a = vertices[mesh.Index(row, col)];
        const ScreenVertex& b = vertices[mesh.Index(row, col + 1)];
        const ScreenVertex& c = vertices[mesh.Index(row + 1, col)];
        const ScreenVertex& d = vertices[mesh.Index(row + 1, col + 1)];
        if (std::max({a.y, b.y, c.y, d.y}) < below || std::min({a.y, b.y, c.y, d.y}) > above ||
            std::max({a.x, b.x, c.x, d.x}) < 0 || std::min({a.x, b.x, c.x, d.x}) > width ||
            !(a.usable && b.usable && c.usable && d.usable)) {
          continue;
        }
        const auto u = static_cast<float>(col);
        const auto v = static_cast<float>(row);
        Fill({Corner{&a, u, v}, Corner{&b, u + 1, v}, Corner{&c, u, v + 1}}, band, out);
        Fill({Corner{&b, u + 1, v}, Corner{&d, u + 1, v + 1}, Corner{&c, u, v + 1}}, band, out);
      }
    }
  }
}

}  // namespace nearpoint::simulate
