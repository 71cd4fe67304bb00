// What the simulated patient really did. Only who made the patient gets it, through a TruthSink of
// their own; a Frame carries none of it and no tracking library links this folder.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <functional>
#include <optional>

#include "vision/core/units.h"
#include "vision/simulate/card_prop.h"

namespace nearpoint::simulate {

struct EyeTruth {
  Eigen::Vector3d centre_of_rotation_mm;  // camera frame
  Eigen::Vector3d gaze;                   // unit vector, camera frame
  Angle drift;                            // outward turn away from the target
  Eigen::Vector2d limbus_centre_px;  // projection of the limbus circle's centre, distorted image
  double limbus_major_px = 0;        // full major axis of the projected limbus
  double visible = 0;                // fraction of the limbus inside the lids and the picture, 0..1
};

struct FrameTruth {
  std::int64_t frame = 0;
  Time time{};
  Length distance;                   // target to corneal midpoint
  Eigen::Vector3d eye_mid_mm;        // camera frame
  Eigen::Matrix3d camera_from_head;  // head: x to the patient's left, y up, z out of the face
  EyeTruth left_eye, right_eye;
  Angle vergence;             // sum of the horizontal rotations in the head frame
  double lids_closed = 0;     // 0 open .. 1 shut
  double defocus_px = 0;      // blur circle diameter
  Eigen::Vector3d target_mm;  // what the eyes look at, camera frame
  std::optional<CardPose> card;
};

using TruthSink = std::function<void(const FrameTruth&)>;

}  // namespace nearpoint::simulate
