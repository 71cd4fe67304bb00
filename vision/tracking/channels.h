// The channels of one frame, made when first asked for.
#pragma once

#include <opencv2/core.hpp>

namespace nearpoint {

class Channels {
 public:
  explicit Channels(const cv::Mat& bgr) : bgr_(bgr) {}

  [[nodiscard]] const cv::Mat& Bgr() const { return bgr_; }
  [[nodiscard]] const cv::Mat& Grey();

 private:
  cv::Mat bgr_, grey_;
};

}  // namespace nearpoint
