// Whether an adjusted camera may be used, and why not: the judgement over card, views and
// deviation.
#pragma once

#include <string>
#include <vector>

#include "calibration/adjust_camera.h"

namespace nearpoint {

enum class CardKind { kPattern, kPlain };

enum class CameraVerdict {
  kGood,    // as good as this card can give
  kCoarse,  // usable; the stated deviation is larger than it need be
  kRefused,
};

// Why it is refused.
enum class CameraFault {
  kNone,
  kNotId1,       // the plain card has not the shape of an ID-1 card
  kUnevenPrint,  // the pattern is stretched
  kBent,
  kEdgesOff,  // no flat card fits the edges
  kFewViews,
  kVague,  // too little tilt
};

struct CameraCalibration {
  CameraVerdict verdict = CameraVerdict::kRefused;
  CameraFault fault = CameraFault::kNone;  // of kRefused
  std::string reason;                      // one sentence for the person
  CameraAdjustment adjustment;
  // For each view: empty, or why it counts less or not at all.
  std::vector<std::string> view_notes;
};

// Adjusts and judges. Limits (all of them our own judgement; no source):
//   shape    the card's height by its width, estimated freely, is off by more than 1 % and more
//   than
//            three deviations: not an ID-1 card, or a print that is stretched: refused
//   flatness a bow over 0.6 mm: refused; below, it is estimated and taken out
//   fit      residuals over 0.5 px and over five times what the points' own scatter says: refused
//   focal    stated deviation over 2 %: refused; over 0.3 % (pattern) or 1 % (plain): coarse
//   views    fewer than 6: refused, fewer than 10: coarse
// The focal_rel_sd of the result contains kLensSd on top of the adjustment's own. Errors: as
// AdjustCamera.
[[nodiscard]] Result<CameraCalibration> CalibrateCamera(const std::vector<CardView>& views,
                                                        int width, int height, CardKind kind);

// What no picture of a card shows: webcams heat up, breathe and focus anew. One standard deviation
// of the focal length as a fraction; our own judgement, no source.
inline constexpr double kLensSd = 0.001;

}  // namespace nearpoint
