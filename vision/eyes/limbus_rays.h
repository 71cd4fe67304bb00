// Brightness around a guessed limbus, along rays from its centre: the ground that the edge is
// looked for on. Inner parts of limbus_fit.h.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <opencv2/core.hpp>
#include <optional>

#include "vision/eyes/limbus_fit.h"

namespace nearpoint::limbus {

inline constexpr int kRays = 2 * kRaysPerArc;
inline constexpr int kBins = 41;                   // samples along a ray, across the search range
inline constexpr double kUpper = 38, kLower = 52;  // degrees of arc above and below the eye line

// A grey patch around the guess, reduced so that the iris has about 36 pixels of radius, with the
// map back to the picture.
struct Patch {
  cv::Mat grey;            // CV_32F
  double scale;            // picture pixels per patch pixel
  Eigen::Vector2d origin;  // picture position of patch pixel (0, 0)
  double noise = 0;        // standard deviation of the picture's own noise, 8-bit steps of light
  [[nodiscard]] Eigen::Vector2d ToPatch(const Eigen::Vector2d& p) const {
    return (p - origin) / scale;
  }
  [[nodiscard]] bool Sample(double x, double y, float* value) const {
    const int i = static_cast<int>(std::floor(x)), j = static_cast<int>(std::floor(y));
    if (i < 0 || j < 0 || i + 1 >= grey.cols || j + 1 >= grey.rows) return false;
    const float a = static_cast<float>(x - i), b = static_cast<float>(y - j);
    const float* p = grey.ptr<float>(j) + i;
    const float* q = grey.ptr<float>(j + 1) + i;
    *value = (p[0] * (1 - a) + p[1] * a) * (1 - b) + (q[0] * (1 - a) + q[1] * a) * b;
    return true;
  }
};

// channel: 8-bit, one channel, or -1 for all of a single-channel picture. reach: how far beyond the
// guess, in semi-major axes. nullopt where the picture ends.
[[nodiscard]] std::optional<Patch> CutPatch(const cv::Mat& picture, int channel,
                                            const LimbusEllipse& guess, double reach);

// One direction from the centre, in the frame where the ellipse is a circle of radius one.
struct Ray {
  Eigen::Vector2d unit;       // on the unit circle
  Eigen::Vector2d direction;  // the same point on the unit ellipse, picture axes
  double stretch = 1;         // length of `direction`
  int arc = 0;                // 0 image-left, 1 image-right
};

[[nodiscard]] std::array<Ray, kRays> MakeRays(const LimbusEllipse& guess, double eye_line_rad);

// Brightness along every ray as a function of the radius, and its outward slope.
struct Unrolled {
  std::array<std::array<float, kBins>, kRays> value{};
  std::array<std::array<float, kBins>, kRays> slope{};
  std::array<int, kRays> known{};  // bins from the first that lie inside the picture; a ray that
                                   // leaves it keeps the rest
  double first = 0, step = 0;  // radius (semi-major pixels of the patch) of bin 0, and between bins
};

// centre, radius: patch pixels; from radius * (1 - reach) to radius * (1 + reach).
[[nodiscard]] Unrolled Unroll(const Patch& patch, const std::array<Ray, kRays>& rays,
                              const Eigen::Vector2d& centre, double radius, double reach);

}  // namespace nearpoint::limbus
