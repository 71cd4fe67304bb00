// The one place where pixels become a picture of the window.
#pragma once

#include <QImage>
#include <opencv2/core.hpp>

namespace nearpoint {

// bgr: 8-bit, three channels. At most 640 pixels wide, mirrored; owns its pixels.
[[nodiscard]] QImage MirroredPreview(const cv::Mat& bgr);

// Mean of the middle half of the picture (each way), 0 .. 1, of the brightest channel's mean.
[[nodiscard]] double MiddleBrightness(const cv::Mat& bgr);

}  // namespace nearpoint
