// Where the card is: its pose in the camera frame from the corners of its pattern, and whether it
// is flat.
#pragma once

#include <Eigen/Core>
#include <optional>

#include "calibration/print_check.h"
#include "calibration/profile.h"
#include "vision/card/find_pattern.h"
#include "vision/core/units.h"

namespace nearpoint {

struct CardPlacement {
  // Card frame as in vision/card/card_pattern.h: millimetres, z into the card.
  Eigen::Matrix3d camera_from_card;
  Eigen::Vector3d middle_mm;  // camera frame
  // Of a small turn about the camera's axes (radians) and the middle (millimetres), as the scatter
  // of the corners leaves it open.
  Eigen::Matrix<double, 6, 6> covariance;
  // The middle of the card before its left and right ends (positive: bulges toward the lens);
  // before its upper and lower edge likewise.
  UncertainLength bend_across, bend_down;
  // Height of the print by what its width demands, less one, with that left free: 0 of a true one.
  // nullopt where the corners hardly tell.
  std::optional<PrintAspect> aspect;
  double misfit_px = 0;  // root mean square of what the corners are off the (bent) card
  int markers = 0;

  [[nodiscard]] Eigen::Vector3d ToCamera(const Eigen::Vector3d& in_card_mm) const {
    return camera_from_card * in_card_mm + middle_mm;
  }
};

// nullopt with fewer than three markers or where no card before the lens explains the corners.
[[nodiscard]] std::optional<CardPlacement> PlaceCard(const PatternView& pattern,
                                                     const CameraIntrinsics& camera);

// A card bent further than this is no ruler. (At 2 mm its chord is 0.15 % shorter than the card is
// wide, or 0.4 % than it is high.)
inline constexpr Length kLargestBend = Length::Millimeters(2);
[[nodiscard]] bool IsBent(const CardPlacement& card);

}  // namespace nearpoint
