#include "vision/camera/picture_turn.h"

#include <cmath>

namespace nearpoint {

PictureTurn TurnOf(const std::array<std::int32_t, 9>& matrix) {
  const double a = matrix[0], b = matrix[1], c = matrix[3], d = matrix[4];
  PictureTurn turn;
  turn.transpose = std::hypot(b, c) > std::hypot(a, d);
  turn.flip_x = (turn.transpose ? c : a) < 0;
  turn.flip_y = (turn.transpose ? b : d) < 0;
  return turn;
}

cv::Mat Turned(const cv::Mat& stored, const PictureTurn& turn) {
  cv::Mat upright = stored;
  if (turn.transpose) cv::transpose(stored, upright);
  if (!turn.flip_x && !turn.flip_y) return upright;
  cv::Mat flipped;
  cv::flip(upright, flipped, turn.flip_x && turn.flip_y ? -1 : turn.flip_x ? 1 : 0);
  return flipped;
}

}  // namespace nearpoint
