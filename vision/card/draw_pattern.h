// The card as a picture: what the sheet prints and what simulated pictures show.
#pragma once

#include <opencv2/core.hpp>

namespace nearpoint {

// The pattern side, CV_8UC1, black 0 and white 255, of round(85.60 d) by round(53.98 d) pixels; the
// middle of the picture is the middle of the card. The value of a pixel is the share of white on
// its area, so edges keep their place to a fraction of a pixel (values are linear in light, not
// coded). dots_per_mm: above 0.
[[nodiscard]] cv::Mat DrawCardPattern(double dots_per_mm);

// Pixel of such a picture (pixel centres at integers) from millimetres of the card frame: multiply
// by dots_per_mm and add this.
[[nodiscard]] cv::Point2d CardMiddlePx(const cv::Mat& picture);

}  // namespace nearpoint
