// What is assumed of pictures of which nothing is known: the population's face before a camera
// whose focal length is guessed.
#pragma once

#include "calibration/profile.h"

namespace nearpoint::bench {

inline constexpr double kGuessedFocalLength = 1.0;  // in widths of the picture: 53 degrees across
inline constexpr double kGuessedFocalRelSd = 0.1;

[[nodiscard]] inline Profile GuessedProfile(int width, int height) {
  Profile profile;
  profile.camera.width = width;
  profile.camera.height = height;
  profile.camera.fx = profile.camera.fy = kGuessedFocalLength * width;
  profile.camera.cx = (width - 1) / 2.0;
  profile.camera.cy = (height - 1) / 2.0;
  profile.camera.focal_rel_sd = kGuessedFocalRelSd;
  profile.target_mm = {0, 15, 0};
  profile.target_sd = Length::Millimeters(5);
  return profile;
}

}  // namespace nearpoint::bench
