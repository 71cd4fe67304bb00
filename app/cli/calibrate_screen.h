// nearpoint calibrate screen: where the fixation target is in the camera frame, on the screen or on
// the printed strip.
#pragma once

#include <Eigen/Core>
#include <optional>

#include "app/profile/profile_file.h"
#include "vision/core/result.h"

namespace nearpoint {

struct CalibrateScreenArguments {
  CalibrateArguments common;
  std::optional<Eigen::Vector2d> strip_mm;     // letter below and to the right of the lens' middle
  std::optional<Eigen::Vector2d> outline_px;   // width and height of the matched card outline
  std::optional<Eigen::Vector2d> lens_mm;      // from the screen's top left corner
  std::optional<Eigen::Vector2d> target_px;    // from the screen's top left corner
  std::optional<Eigen::Vector2d> screen_px;    // as reported by the system
  std::optional<Eigen::Vector2d> reported_mm;  // as reported by the system
};

[[nodiscard]] Result<void> RunCalibrateScreen(const CalibrateScreenArguments& arguments);

}  // namespace nearpoint
