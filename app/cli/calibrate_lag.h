// nearpoint calibrate lag: the person's response time, from ten presses in the terminal or from a
// file of times.
#pragma once

#include <optional>
#include <string>

#include "app/profile/profile_file.h"
#include "vision/core/result.h"

namespace nearpoint {

struct CalibrateLagArguments {
  CalibrateArguments common;
  std::optional<std::string> times;  // CSV shown_ms,pressed_ms; absent: the task in the terminal
  std::optional<std::string> out_times;  // where to keep the times of the terminal
  double refreshes_per_second = 60;      // of the screen
  double frames_per_second = 30;         // of the camera, where it is not measured
  std::optional<int> camera;             // number of a camera whose delay is measured
};

[[nodiscard]] Result<void> RunCalibrateLag(const CalibrateLagArguments& arguments);

}  // namespace nearpoint
