#include "app/live/preview.h"

#include <algorithm>
#include <opencv2/imgproc.hpp>

namespace nearpoint {
namespace {
constexpr int kWidest = 640;
}

QImage MirroredPreview(const cv::Mat& bgr) {
  cv::Mat small = bgr;
  if (bgr.cols > kWidest) {
    const double factor = static_cast<double>(kWidest) / bgr.cols;
    cv::resize(bgr, small, {}, factor, factor, cv::INTER_AREA);
  }
  QImage image(small.cols, small.rows, QImage::Format_BGR888);
  cv::Mat view(small.rows, small.cols, CV_8UC3, image.bits(),
               static_cast<std::size_t>(image.bytesPerLine()));
  cv::flip(small, view, 1);
  return image;
}

double MiddleBrightness(const cv::Mat& bgr) {
  const cv::Rect middle(bgr.cols / 4, bgr.rows / 4, std::max(1, bgr.cols / 2),
                        std::max(1, bgr.rows / 2));
  const cv::Scalar mean = cv::mean(bgr(middle));
  return std::max({mean[0], mean[1], mean[2]}) / 255;
}

}  // namespace nearpoint
