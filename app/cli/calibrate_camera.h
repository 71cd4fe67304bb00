// nearpoint calibrate camera: focal length, centre and distortion from a card shown in several
// tilts.
#pragma once

#include <string>

#include "app/profile/profile_file.h"
#include "calibration/camera_check.h"
#include "vision/core/result.h"

namespace nearpoint {

struct CalibrateCameraArguments {
  CalibrateArguments common;
  std::string source;
  CardKind card = CardKind::kPattern;
};

[[nodiscard]] Result<void> RunCalibrateCamera(const CalibrateCameraArguments& arguments);

}  // namespace nearpoint
