// The picture of a circle in space.
#pragma once

#include <Eigen/Core>
#include <optional>

namespace nearpoint {

// Ellipse in the normalised image plane z = 1: centre, semi-axes (major first) and the direction of
// the major axis.
struct ProjectedCircle {
  Eigen::Vector2d centre;
  double semi_major = 0;
  double semi_minor = 0;
  double angle_rad = 0;
};

// centre_mm, normal (unit), radius_mm: the circle in the camera frame. Exact: the cone over the
// circle cut by z = 1. The centre of the ellipse is not the picture of the circle's centre (1.5
// pixels apart for an iris at 80 mm). nullopt when part of the circle is behind the lens or it is
// seen edge-on.
[[nodiscard]] std::optional<ProjectedCircle> ProjectCircle(const Eigen::Vector3d& centre_mm,
                                                           const Eigen::Vector3d& normal,
                                                           double radius_mm);

}  // namespace nearpoint
