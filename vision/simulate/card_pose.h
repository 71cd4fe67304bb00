// Where the card is: resting on the skin of the face, or in a hand before it.
#pragma once

#include "vision/simulate/card_prop.h"
#include "vision/simulate/head_shape.h"

namespace nearpoint::simulate {

// A pose in the head frame (see head_shape.h).
struct CardInHead {
  Eigen::Matrix3d head_from_card;
  Eigen::Vector3d middle_mm;
};

// The card as it rests on the forehead or under the nose, with the prop's gap and turns.
[[nodiscard]] CardInHead CardOnFace(const CardProp& prop, const HeadShape& shape);

// The card laid along the ridge of the nose, with the target on the skin. target_mm: head frame.
struct CardTouch {
  CardInHead card;
  Eigen::Vector3d target_mm;
};
[[nodiscard]] CardTouch CardOnNose(const CardProp& prop, const HeadShape& shape);

// Turns of the prop in the card's own axes.
[[nodiscard]] Eigen::Matrix3d CardTurn(const CardProp& prop);

}  // namespace nearpoint::simulate
