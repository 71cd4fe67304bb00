// The personal scale of a face from pictures of it with a card of known size held flat on the
// forehead or under the nose while the head turns a little from side to side.
//
// The card gives its own pose in each picture. What moves rigidly with it (the centres of rotation
// of the eyes, the corners of the lids) is triangulated in the card's frame from the turns of the
// head, so nothing need be known of how deep the eyes lie behind the card: a card on a sloping
// forehead, or tilted, gives the same lengths. An eye that stays on a target turns in its socket,
// but the middle of its limbus stays on the line from the target to its centre of rotation; so the
// distance between the two centres is the pupil distance at infinity whatever the eyes converge on,
// and no correction is left to make.
//
// Of a still head the depth is not to be had, and 5 mm of it are 1 % at 45 cm: no scale is given
// then.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "calibration/print_check.h"
#include "calibration/print_scale.h"
#include "calibration/profile.h"
#include "vision/core/result.h"

namespace nearpoint {

// One limbus: centre of its ellipse and length of its major axis, pixels of the captured picture.
struct SeenIris {
  Eigen::Vector2d centre_px;
  double major_px = 0;
};

// Lid corners by the numbers of the 68-point scheme: right outer (36), right inner (39), left inner
// (42), left outer (45).
inline constexpr int kFaceCorners = 4;

// One picture. Card frame as in vision/card/card_pattern.h.
struct FaceCardView {
  Eigen::Matrix3d camera_from_card;
  Eigen::Vector3d card_middle_mm;     // camera frame
  std::optional<PrintAspect> aspect;  // of the card's print, as this picture shows it
  std::optional<SeenIris> left, right;
  std::array<std::optional<Eigen::Vector2d>, kFaceCorners> corners_px;
};

struct FaceFitOptions {
  Eigen::Vector3d fixation_mm{0, 0, 0};  // what the eyes look at, camera frame: the lens
  // What is wrong alike in all pictures, one standard deviation each.
  double card_rel_sd = kRulerPrintSd;              // of the print's size
  double card_scale = 1;                           // factor to real lengths (print_scale.h)
  double iris_rel_sd = 0.006;                      // a limbus fit against the true edge
  Length fixation_sd = Length::Millimeters(0.25);  // of each limbus: gaze beside the lens
  // A corner as found against the true one, alike in all pictures of one person.
  Length corner_sd = Length::Millimeters(0.45);
  double least_turn_deg = 12;  // between the two farthest turns
  int least_views = 8;
};

// What was found besides the lengths: said to the person, and kept with the result.
struct FaceFit {
  FaceScale face;           // all six lengths with their deviations
  Length eyes_behind_card;  // corneal plane behind the card's pattern side, along its normal
  double turn_deg = 0;      // between the two farthest turns of the head
  std::optional<PrintAspect> aspect;  // of the print
  double misfit_px = 0;               // of the limbus centres, root mean square
  int views_used = 0;                 // with at least one iris that agrees with the rest
  int views_left_out = 0;             // irises that did not agree
};

// Errors: kInsufficient (too few views, head not turned), kBadValue (the card did not move with the
// head, lies at another depth than a face, or is askew to it; eyes that did not stay on the lens),
// kMismatch (a print that was stretched), in one sentence that says what to do.
[[nodiscard]] Result<FaceFit> FitFaceScale(const std::vector<FaceCardView>& views,
                                           const CameraIntrinsics& camera,
                                           const FaceFitOptions& options = {});

}  // namespace nearpoint
