// Light on the patient, in the head frame of one frame: the room, a side light, and the glow of the
// screen.
#pragma once

#include <Eigen/Core>

#include "vision/simulate/patient.h"

namespace nearpoint::simulate {

class Lighting {
 public:
  Lighting(const Light& light, const Eigen::Matrix3d& camera_from_head,
           const Eigen::Vector3d& eye_mid_in_camera_mm);

  struct Sample {
    Eigen::Vector3f diffuse;  // BGR, multiplies a linear reflectance
    float gloss = 0;          // added by a slightly shiny surface
  };
  // point and unit normal in the head frame; openness 0..1 dims what comes from all sides.
  [[nodiscard]] Sample At(const Eigen::Vector3f& point_mm, const Eigen::Vector3f& normal,
                          float openness) const;

 private:
  Eigen::Vector3f camera_, screen_, up_, key_, side_;  // places and directions in the head frame
  Eigen::Vector3f ambient_, ground_, key_colour_, side_colour_, screen_colour_;
};

}  // namespace nearpoint::simulate
