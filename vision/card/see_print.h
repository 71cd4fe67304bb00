// The print of the calibration sheet against a real card, both in one picture.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>
#include <string>

#include "calibration/profile.h"
#include "vision/card/find_pattern.h"
#include "vision/card/find_plain_card.h"

namespace nearpoint {

struct PrintSeen {
  std::optional<PrintScale> scale;
  // Without it, what is missing: the pattern, the real card beside it, or both were found and do
  // not lie as they should (`why` alone).
  std::optional<NoPattern> no_pattern;
  std::optional<NoPlainCard> no_card;
  std::string why;  // the same in words, without a full stop; empty with a scale
  // Where the edges of the real card meet, once it was found.
  std::optional<std::array<Eigen::Vector2d, 4>> card_px;
};

// picture: CV_8UC1 or CV_8UC3 (BGR), as captured by this camera.
[[nodiscard]] PrintSeen SeePrint(const cv::Mat& picture, const CameraIntrinsics& camera);

}  // namespace nearpoint
