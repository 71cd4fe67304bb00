// The planes from which a near point is counted. Records are from the corneal plane; a value is
// shown from another only together with that plane's name.
#pragma once

#include <optional>
#include <string_view>

#include "vision/core/units.h"

namespace nearpoint {

enum class ReferencePlane {
  kCorneal,           // midpoint of the two corneal apices
  kSpectacle,         // where a spectacle lens sits; the forehead, near enough
  kLateralCanthus,    // outer corner of the eye
  kCentreOfRotation,  // midpoint of the two centres of rotation
};

// How far the plane lies behind the spectacle plane. Population values: 13.5 mm for the corneal
// apex (12 to 14 in common use), 18 mm for the lateral canthus (Marusic et al., Ophthalmic Physiol
// Opt 2024: 1.8 cm more than from the forehead), 27 mm for the centre of rotation (the usual stop
// distance in lens design).
[[nodiscard]] constexpr Length BehindSpectacle(ReferencePlane plane) {
  switch (plane) {
    case ReferencePlane::kCorneal:
      return Length::Millimeters(13.5);
    case ReferencePlane::kSpectacle:
      return Length::Millimeters(0);
    case ReferencePlane::kLateralCanthus:
      return Length::Millimeters(18);
    case ReferencePlane::kCentreOfRotation:
      return Length::Millimeters(27);
  }
  return {};
}
[[nodiscard]] constexpr Length CornealBehindSpectacle() {
  return BehindSpectacle(ReferencePlane::kCorneal);
}

// The same target's distance, counted from another plane.
[[nodiscard]] constexpr Length MoveToPlane(Length distance, ReferencePlane from,
                                           ReferencePlane to) {
  return distance + BehindSpectacle(to) - BehindSpectacle(from);
}

// "corneal plane", "spectacle plane", "lateral canthus", "centre of rotation".
[[nodiscard]] std::string_view ToText(ReferencePlane plane);
[[nodiscard]] std::optional<ReferencePlane> ParsePlane(std::string_view text);

}  // namespace nearpoint
