// A card in the picture: lying flat on the face, or held up between the face and the lens with the
// target on its far side. Only its geometry is chosen here; what is printed on it comes in as a
// picture.
//
// Card frame: millimetres, origin in the middle of the side that the lens sees, x to the right and
// y down as that side is read, z into the card.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <opencv2/core.hpp>

#include "vision/core/units.h"

namespace nearpoint::simulate {

struct CardPose {
  Eigen::Matrix3d camera_from_card;
  Eigen::Vector3d middle_mm;  // camera frame

  [[nodiscard]] Eigen::Vector3d ToCamera(const Eigen::Vector3d& in_card_mm) const {
    return camera_from_card * in_card_mm + middle_mm;
  }
};

enum class CardPlace {
  kForehead,  // rests on the forehead, moves with the head
  kUnderNose,
  // Before a face that stays where it is; the distance of the behaviour is the card's. It comes
  // into the picture after `hold`.
  kHeld,
  // Held at `start` after a quarter of `hold`, and after half of it laid on the bridge of the nose
  // within a second.
  kTouch,
};

struct CardProp {
  CardPlace place = CardPlace::kForehead;
  // The side toward the lens: CV_8UC1, share of white in linear light; any resolution.
  cv::Mat picture;
  Length width = Length::Millimeters(85.60);
  Length height = Length::Millimeters(53.98);
  Length thickness = Length::Millimeters(1.0);
  Length corner_radius = Length::Millimeters(3.18);
  // Against the plane it would rest in, or square to the lens when held: turned about the upright
  // axis, about the horizontal axis, and in its own plane.
  Angle turned, tipped, rolled;
  Length gap;   // between the card and where it would touch the skin
  Length bend;  // how far the middle stands nearer to the lens than the left and right ends
  bool moves_with_head = true;  // false: the card stays behind when the head turns
  // Fingers reach this far over the card's ends, or the thumb over its lower edge when held; less
  // than -20: no hand in the picture.
  Length fingers = Length::Millimeters(6);
  Length glare;  // radius of a mirrored lamp right of the middle; 0: matt

  // Held only. The eyes look at this point, on the side away from the lens.
  Eigen::Vector3d target_in_card_mm{0, -22, 1.0};
  Length face_distance = Length::Millimeters(500);  // lens to the eyes
  Length below = Length::Millimeters(12);  // the target, under the line from the lens to the eyes
};

}  // namespace nearpoint::simulate
