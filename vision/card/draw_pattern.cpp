#include "vision/card/draw_pattern.h"

#include <algorithm>
#include <cmath>

#include "vision/card/card_pattern.h"

namespace nearpoint {
namespace {

// Length of the part of pixel i (from i - 0.5 to i + 0.5) that lies between from and to.
double Covered(int i, double from, double to) {
  return std::clamp(std::min(i + 0.5, to) - std::max(i - 0.5, from), 0.0, 1.0);
}

}  // namespace

cv::Point2d CardMiddlePx(const cv::Mat& picture) {
  return {(picture.cols - 1) / 2.0, (picture.rows - 1) / 2.0};
}

cv::Mat DrawCardPattern(double dots_per_mm) {
  const auto width = static_cast<int>(std::lround(kCardWidthMm * dots_per_mm));
  const auto height = static_cast<int>(std::lround(kCardHeightMm * dots_per_mm));
  cv::Mat dark(std::max(height, 1), std::max(width, 1), CV_32F, cv::Scalar(0));
  const cv::Point2d middle = CardMiddlePx(dark);
  for (const CardRectangle& r : DarkRectangles()) {
    const double left = middle.x + r.left * dots_per_mm, right = middle.x + r.right * dots_per_mm;
    const double top = middle.y + r.top * dots_per_mm, bottom = middle.y + r.bottom * dots_per_mm;
    const int first_row = std::max(0, static_cast<int>(std::floor(top)));
    const int last_row = std::min(dark.rows - 1, static_cast<int>(std::ceil(bottom)));
    const int first_column = std::max(0, static_cast<int>(std::floor(left)));
    const int last_column = std::min(dark.cols - 1, static_cast<int>(std::ceil(right)));
    for (int y = first_row; y <= last_row; ++y) {
      const double high = Covered(y, top, bottom);
      for (int x = first_column; x <= last_column; ++x) {
        dark.at<float>(y, x) += static_cast<float>(high * Covered(x, left, right));
      }
    }
  }
  cv::Mat picture;
  dark.convertTo(picture, CV_8U, -255, 255);
  return picture;
}

}  // namespace nearpoint
