#include "vision/distance/spectacle_lens.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <cmath>

namespace nearpoint {
namespace {

constexpr double kPerMm = 1e-3;  // of one dioptre

// The ellipse u^T q u = 0 of points u = (x, y, 1), q symmetric.
std::optional<ProjectedCircle> EllipseOf(const Eigen::Matrix3d& q) {
  const Eigen::Matrix2d shape = q.topLeftCorner<2, 2>();
  if (!(shape.determinant() > 0)) return std::nullopt;
  ProjectedCircle out;
  out.centre = -shape.inverse() * q.topRightCorner<2, 1>();
  const double level = -(q(2, 2) + q.bottomLeftCorner<1, 2>() * out.centre);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(shape);
  // The longest axis belongs to the smallest eigenvalue.
  const bool positive = axes.eigenvalues()(0) > 0;
  const int longest = positive ? 0 : 1;
  const double along = level / axes.eigenvalues()(longest);
  const double across = level / axes.eigenvalues()(1 - longest);
  if (!(along > 0) || !(across > 0)) return std::nullopt;
  out.semi_major = std::sqrt(along);
  out.semi_minor = std::sqrt(across);
  const Eigen::Vector2d direction = axes.eigenvectors().col(longest);
  out.angle_rad = std::atan2(direction.y(), direction.x());
  return out;
}

}  // namespace

double SizeThroughLens(double power_diopters, double depth_mm) {
  return 1 / (1 - kPerMm * power_diopters * depth_mm);
}

double MeridianPower(double sphere, double cylinder, Angle axis, Angle meridian) {
  const double across = std::sin((meridian - axis).rad());
  return sphere + cylinder * across * across;
}

SpectacleLens LensAt(const SpectacleLens& lens, const Eigen::Matrix3d& rotation,
                     const Eigen::Vector3d& shift_mm) {
  return {rotation * lens.centre_mm + shift_mm, rotation * lens.forward, lens.power_per_mm,
          rotation * lens.apex_rad};
}

Eigen::Vector3d SeenThrough(const SpectacleLens& lens, const Eigen::Vector3d& point) {
  const double s = lens.forward.dot(lens.centre_mm - point);
  if (s <= 0) return point;
  return lens.centre_mm +
         (point - lens.centre_mm + s * lens.apex_rad) / (1 - lens.power_per_mm * s);
}

Eigen::Vector3d TrueFromSeen(const SpectacleLens& lens, const Eigen::Vector3d& seen) {
  const double seen_s = lens.forward.dot(lens.centre_mm - seen);
  if (seen_s <= 0) return seen;
  const double larger = 1 + lens.power_per_mm * seen_s;  // 1 / (1 - F s)
  const double s = seen_s / larger;
  return lens.centre_mm + (seen - lens.centre_mm) / larger - s * lens.apex_rad;
}

Eigen::Vector3d AimThrough(const SpectacleLens& lens, const Eigen::Vector3d& centre_of_rotation,
                           const Eigen::Vector3d& target) {
  const double s = lens.forward.dot(target - lens.centre_mm);
  if (lens.IsPlain() || s <= 0) return (target - centre_of_rotation).normalized();
  // The image less the centre of rotation, times 1 - F s: beyond the focus of a plus lens the image
  // lies behind the eye, and the direction stays.
  return (target - lens.centre_mm + s * lens.apex_rad +
          (1 - lens.power_per_mm * s) * (lens.centre_mm - centre_of_rotation))
      .normalized();
}

std::optional<ProjectedCircle> ProjectCircleThrough(const SpectacleLens& lens,
                                                    const Eigen::Vector3d& centre_mm,
                                                    const Eigen::Vector3d& normal,
                                                    double radius_mm) {
  if (lens.IsPlain()) return ProjectCircle(centre_mm, normal, radius_mm);
  // A point P is seen in the direction of P + (a - F C) s, with s = forward (C - P): linear in P.
  const Eigen::Vector3d pull = lens.apex_rad - lens.power_per_mm * lens.centre_mm;
  const Eigen::Matrix3d seen = Eigen::Matrix3d::Identity() - pull * lens.forward.transpose();
  const Eigen::Vector3d across = normal.unitOrthogonal();
  Eigen::Matrix3d from_circle;  // (cos, sin, 1) of the circle to a ray
  from_circle << radius_mm * (seen * across), radius_mm * (seen * normal.cross(across)),
      seen * centre_mm + lens.forward.dot(lens.centre_mm) * pull;
  // How far the depth behind the lens varies along the rim.
  const double s = lens.forward.dot(lens.centre_mm - centre_mm);
  const double along = radius_mm * lens.forward.cross(normal).norm();
  if (!(1 - lens.power_per_mm * (s - along) > 0) || !(1 - lens.power_per_mm * (s + along) > 0)) {
    return std::nullopt;
  }
  if (!(centre_mm.z() > radius_mm)) return std::nullopt;
  Eigen::Matrix3d circle_from;
  bool invertible = false;
  from_circle.computeInverseWithCheck(circle_from, invertible, 1e-300);
  if (!invertible) return std::nullopt;
  return EllipseOf(circle_from.transpose() * Eigen::Vector3d(1, 1, -1).asDiagonal() * circle_from);
}

}  // namespace nearpoint
