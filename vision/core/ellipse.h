// The shape of an ellipse in a picture.
#pragma once

#include <cmath>

namespace nearpoint {

// Half-width of an ellipse along a direction of the picture over its semi-major axis, as a
// logarithm: 0 along the major axis, ln(aspect) along the minor. aspect: minor to major axis, in
// (0, 1]; both angles from the picture's x axis toward y.
[[nodiscard]] inline double LogWidth(double aspect, double major_axis_rad, double direction_rad) {
  const double along = std::cos(direction_rad - major_axis_rad);
  const double across = aspect * std::sin(direction_rad - major_axis_rad);
  return 0.5 * std::log(along * along + across * across);
}

}  // namespace nearpoint
