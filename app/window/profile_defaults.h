// What is assumed of a person, a camera and a target that nobody measured.
#pragma once

#include "calibration/profile.h"

namespace nearpoint {

// Population values for the face, an ordinary webcam of 1280x720, a target under the lens, and the
// response lag of young adults.
[[nodiscard]] Profile DefaultProfile();

}  // namespace nearpoint
