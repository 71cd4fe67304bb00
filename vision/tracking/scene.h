// What is known when a frame is looked at: camera and person.
#pragma once

#include <optional>

#include "calibration/profile.h"
#include "vision/core/units.h"
#include "vision/distance/head_model.h"
#include "vision/face/eye_net.h"

namespace nearpoint {

struct Scene {
  const Profile& profile;
  const HeadModel& model;              // personal lengths as learned so far
  std::optional<Length> nearest_gaze;  // see TrackerOptions
  const EyeNet& eyes;
  bool seen_before = false;  // this head, in the last seconds
};

}  // namespace nearpoint
