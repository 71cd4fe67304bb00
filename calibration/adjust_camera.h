// Camera from pictures of a card: a least-squares adjustment of focal length, centre and distortion
// together with the place of the card in every picture, and with what is not perfect about the card
// itself. Pure: no files, no clock, no OpenCV.
//
// Model. A point (x, y) of the card lies at height
//   z = bow_x (x / a)^2 + bow_y (y / b)^2 + twist x y / (a b)        a, b: half width, half height
// over the card's plane, because a card is never quite flat: 0.07 mm of bow in a 250 mm distance
// shift the focal length by 1 % if it is left out. Its height is `aspect` times what the drawing
// says: printers feed paper unevenly. An edge may be seen shifted across itself by the same amount
// in the whole picture (blooming of light, spread of ink). All of these are estimated with priors
// that say how large they are in life, and so enter the stated deviation.
//
// Not determined by any card: its size. A card of the wrong size in the right shape gives the same
// camera; see print_check.h.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <optional>
#include <string>
#include <vector>

#include "calibration/card_view.h"
#include "calibration/profile.h"
#include "vision/core/result.h"

namespace nearpoint {

// One standard deviation each of what is believed before the first picture.
struct CardPrior {
  double half_width_mm = 42.8;
  double half_height_mm = 26.99;
  double bow_mm = 0.15;   // of each of bow_x, bow_y and twist; a card as a person holds it
  double aspect = 0.002;  // relative
  double shift_px = 0.3;  // of edges, in each picture
  double rim_mm = 0;      // behind the face
  double rim_sd_mm = 1e-6;
};

[[nodiscard]] CardPrior PatternCardPrior();  // printed, glued onto something stiff
[[nodiscard]] CardPrior PlainCardPrior();    // made in a factory: true in shape, soft at its rim
[[nodiscard]] CardPrior RigidTargetPrior();  // a measured board

struct AdjustOptions {
  int width = 0;  // of the pictures, pixels
  int height = 0;
  CardPrior card;
};

struct PlacedView {
  Eigen::Matrix3d camera_from_card = Eigen::Matrix3d::Identity();
  Eigen::Vector3d card_in_camera_mm = Eigen::Vector3d::Zero();
  double rms_px = 0;  // of the residuals that count
  double inflation =
      1;  // by how much this view is worse than its points say, >= 1: its weight is 1 / square
  double set_aside = 0;  // share of its points that lie off and do not count
  double shift_px = 0;
  double tilt_deg = 0;  // between the card's normal and the line of sight to its middle
};

struct CameraAdjustment {
  CameraIntrinsics camera;  // focal_rel_sd is filled
  // Of (fx, fy, cx, cy, k1, k2, p1, p2); k3 is not estimated. Pixels, and plain numbers.
  Eigen::Matrix<double, 8, 8> covariance = Eigen::Matrix<double, 8, 8>::Zero();
  double bow_x_mm = 0, bow_y_mm = 0, twist_mm = 0;  // ends over the middle, away from the reader
  double bow_sd_mm = 0;                             // the largest of the three
  double aspect = 1, aspect_sd = 0;
  double rms_px = 0;
  std::vector<PlacedView> views;  // one for each view given
};

// At least three views with eight points each. Errors: kInsufficient (too few views, or the views
// do not determine a focal length: all from the same side), kBadValue (an image size of zero).
[[nodiscard]] Result<CameraAdjustment> AdjustCamera(const std::vector<CardView>& views,
                                                    const AdjustOptions& options);

// The place of a card in one picture of a known camera, by the same residuals; nullopt where it
// does not converge. Uses the view's edges and points as they are.
[[nodiscard]] std::optional<PlacedView> PlaceCard(const CardView& view,
                                                  const CameraIntrinsics& camera);

}  // namespace nearpoint
