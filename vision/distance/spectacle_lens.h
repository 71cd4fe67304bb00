// A spectacle lens before an eye: a thin lens, which from any camera position shows what is behind
// it as another, rigid body (a collineation), and shows the eye its target elsewhere.
//
// Lengths in millimetres, power in 1/mm (-3 dioptres are -0.003). s: depth behind the lens plane
// toward the eye, or before it toward the target; both count positive.
//     P' = C + (P - C + s a) / (1 - F s)
// with the optical centre C, the power F, and the prism a: the way that light is turned, radians,
// toward the prism's apex. Exact for a thin lens near its axis. Not in it: thickness and base curve
// (under 1 % of size), the slant of the lens, a cylinder (MeridianPower gives the power along one
// line), a reading addition.
#pragma once

#include <Eigen/Core>
#include <optional>

#include "vision/core/units.h"
#include "vision/distance/circle_projection.h"

namespace nearpoint {

// How much larger a thing at depth s behind the lens is seen: 1 / (1 - F s). An iris 14.6 mm behind
// a lens of -6 dioptres is seen 8.1 % smaller, behind +3 dioptres 4.6 % larger.
[[nodiscard]] double SizeThroughLens(double power_diopters, double depth_mm);

// Power of a lens with sphere, cylinder (either sign) and axis along a line at `meridian` from the
// horizontal, as the examiner sees it (ISO 8429): sphere + cylinder sin^2(meridian - axis).
[[nodiscard]] double MeridianPower(double sphere, double cylinder, Angle axis, Angle meridian);

struct SpectacleLens {
  Eigen::Vector3d centre_mm = Eigen::Vector3d::Zero();
  Eigen::Vector3d forward = Eigen::Vector3d::UnitZ();  // unit, from the eye to the target
  double power_per_mm = 0;
  Eigen::Vector3d apex_rad = Eigen::Vector3d::Zero();  // across `forward`

  [[nodiscard]] bool IsPlain() const { return power_per_mm == 0 && apex_rad.isZero(0); }
};

// The same lens after a rotation and a shift.
[[nodiscard]] SpectacleLens LensAt(const SpectacleLens& lens, const Eigen::Matrix3d& rotation,
                                   const Eigen::Vector3d& shift_mm);

// Where a point behind the lens is seen. What is not behind it stays.
[[nodiscard]] Eigen::Vector3d SeenThrough(const SpectacleLens& lens, const Eigen::Vector3d& point);

// The other way: the point that is seen there.
[[nodiscard]] Eigen::Vector3d TrueFromSeen(const SpectacleLens& lens, const Eigen::Vector3d& seen);

// Unit direction in which an eye with this centre of rotation looks to see the target: toward the
// target's image, through the point of the lens where the ray passes. Behind a minus lens an eye
// turns in less.
[[nodiscard]] Eigen::Vector3d AimThrough(const SpectacleLens& lens,
                                         const Eigen::Vector3d& centre_of_rotation,
                                         const Eigen::Vector3d& target);

// ProjectCircle of a circle behind the lens; everything in the camera frame. Exact: the picture of
// a circle under a collineation is an ellipse. nullopt as there, and where the lens shows a point
// of it at infinity.
[[nodiscard]] std::optional<ProjectedCircle> ProjectCircleThrough(const SpectacleLens& lens,
                                                                  const Eigen::Vector3d& centre_mm,
                                                                  const Eigen::Vector3d& normal,
                                                                  double radius_mm);

}  // namespace nearpoint
