// How the pictures of a recording must be turned to stand upright: phones store them as the sensor
// saw them, with a display matrix beside them.
#pragma once

#include <array>
#include <cstdint>
#include <opencv2/core.hpp>

namespace nearpoint {

// Transposed first, then mirrored left to right, then upside down.
struct PictureTurn {
  bool transpose = false;
  bool flip_x = false;
  bool flip_y = false;
  friend bool operator==(const PictureTurn&, const PictureTurn&) = default;
};

// matrix: as ISO/IEC 14496-12 stores it, a b u c d v x y w by rows, of which a point (p, q) of the
// stored picture goes to (a p + c q, b p + d q). Of other angles than quarter turns the nearest; a
// matrix without any turn in it (all zero) leaves the picture as it is.
[[nodiscard]] PictureTurn TurnOf(const std::array<std::int32_t, 9>& matrix);

// A picture of its own unless nothing is to be turned.
[[nodiscard]] cv::Mat Turned(const cv::Mat& stored, const PictureTurn& turn);

}  // namespace nearpoint
