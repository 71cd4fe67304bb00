#include "vision/tracking/channels.h"

#include <opencv2/imgproc.hpp>

namespace nearpoint {

const cv::Mat& Channels::Grey() {
  if (grey_.empty()) cv::cvtColor(bgr_, grey_, cv::COLOR_BGR2GRAY);
  return grey_;
}

const cv::Mat& Channels::Whiteness() {
  if (whiteness_.empty()) {
    cv::Mat blue, red;
    cv::extractChannel(bgr_, blue, 0);
    cv::extractChannel(bgr_, red, 2);
    whiteness_ = cv::min(blue, red);
  }
  return whiteness_;
}

}  // namespace nearpoint
