#include "vision/distance/circle_projection.h"

#include <cmath>

namespace nearpoint {

std::optional<ProjectedCircle> ProjectCircle(const Eigen::Vector3d& c, const Eigen::Vector3d& n,
                                             double r) {
  if (!(c.z() > r)) return std::nullopt;
  // A ray u meets the plane of the circle at h u / (n u), with h = n c; it is on the cone when that
  // point is r from c.
  const double h = n.dot(c);
  const double k = c.squaredNorm() - r * r;
  const Eigen::Matrix3d q = h * h * Eigen::Matrix3d::Identity() -
                            h * (c * n.transpose() + n * c.transpose()) + k * n * n.transpose();
  const double a = q(0, 0), b = q(0, 1), d = q(1, 1);
  const double det = a * d - b * b;
  if (!(det > 0)) return std::nullopt;
  ProjectedCircle out;
  out.centre = {(-d * q(0, 2) + b * q(1, 2)) / det, (b * q(0, 2) - a * q(1, 2)) / det};
  const double level = -(q(2, 2) + q(0, 2) * out.centre.x() + q(1, 2) * out.centre.y());
  const double mean = (a + d) / 2, half_gap = std::hypot((a - d) / 2, b);
  const double small = mean - half_gap, large = mean + half_gap;
  if (!(level / small > 0) || !(level / large > 0)) return std::nullopt;
  out.semi_major = std::sqrt(level / small);
  out.semi_minor = std::sqrt(level / large);
  // The major axis lies along the eigenvector of the smaller eigenvalue.
  out.angle_rad = half_gap < 1e-12 * mean ? 0 : 0.5 * std::atan2(-2 * b, d - a);
  return out;
}

}  // namespace nearpoint
