// Pictures whose content says which frame they are, and what reading a source to its end gave.
#pragma once

#include <cmath>
#include <cstdint>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "vision/camera/frame_source.h"

namespace nearpoint {

// A plain grey picture: frame n has the brightness 20 + 10 n, so that it survives lossy
// compression.
[[nodiscard]] inline cv::Mat NumberedPicture(int number, int width = 96, int height = 64) {
  return {height, width, CV_8UC3, cv::Scalar::all(20 + 10 * number)};
}
[[nodiscard]] inline int NumberOf(const cv::Mat& bgr) {
  return static_cast<int>(std::lround((cv::mean(bgr)[0] - 20) / 10));
}

struct ReadToEnd {
  std::vector<Frame> frames;
  std::optional<Error> error;
};
[[nodiscard]] inline ReadToEnd ReadAll(FrameSource& source) {
  ReadToEnd all;
  for (;;) {
    auto frame = source.Next();
    if (!frame) {
      all.error = frame.error();
      return all;
    }
    if (!*frame) return all;
    all.frames.push_back(**frame);
  }
}

}  // namespace nearpoint
