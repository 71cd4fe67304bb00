#include "vision/tracking/channels.h"

#include <opencv2/imgproc.hpp>

namespace nearpoint {

const cv::Mat& Channels::Grey() {
  if (grey_.empty()) cv::cvtColor(bgr_, grey_, cv::COLOR_BGR2GRAY);
  return grey_;
}

}  // namespace nearpoint
