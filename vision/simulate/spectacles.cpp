#include "vision/simulate/spectacles.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace nearpoint::simulate {
namespace {

// A progressive lens: from here down the addition grows, to full at the second.
constexpr double kAdditionFromMm = -4, kAdditionFullMm = -12;
constexpr double kNearInsetMm = 2, kNearDropMm = 12;
// What lies this far behind is the side of the head: no eye looks there, and a strong plus lens
// would turn it round.
constexpr double kFadeFromMm = 40, kFadeToMm = 65;

double Smooth(double low, double high, double x) {
  const double t = std::clamp((x - low) / (high - low), 0.0, 1.0);
  return t * t * (3 - 2 * t);
}

}  // namespace

LensBeforeEye::LensBeforeEye(const Spectacles& s, double pd_mm, double side) {
  centre_ = {side * (pd_mm / 2 + s.outward.mm()), s.upward.mm(), s.vertex.mm()};
  normal_ = {0, -std::sin(s.tilt.rad()), std::cos(s.tilt.rad())};
  across_ = Eigen::Vector3d::UnitX();
  up_ = normal_.cross(across_);
  const LensPower& lens = side > 0 ? s.left : s.right;
  const Eigen::Vector2d axis(std::cos(lens.axis.rad()), std::sin(lens.axis.rad()));
  const Eigen::Matrix2d one = Eigen::Matrix2d::Identity();
  power_ = 1e-3 * (lens.sphere * one + lens.cylinder * (one - axis * axis.transpose()));
  mean_power_ = power_.trace() / 2;
  apex_ = {-side * lens.base_out / 100, 0};
  addition_ = 1e-3 * s.addition;
  near_zone_ = {-side * kNearInsetMm, -kNearDropMm};
}

Eigen::Vector3d LensBeforeEye::At(double x, double y) const {
  return centre_ + x * across_ + y * up_;
}

Eigen::Vector2d LensBeforeEye::InPlane(const Eigen::Vector3d& p) const {
  return {across_.dot(p - centre_), up_.dot(p - centre_)};
}

double LensBeforeEye::Before(const Eigen::Vector3d& p) const { return normal_.dot(p - centre_); }

LensBeforeEye::Local LensBeforeEye::AtPlane(const Eigen::Vector2d& x) const {
  const double added = addition_ * (1 - Smooth(kAdditionFullMm, kAdditionFromMm, x.y()));
  return {power_ + added * Eigen::Matrix2d::Identity(), apex_ - added * near_zone_};
}

Eigen::Vector3d LensBeforeEye::Crossing(const Eigen::Vector3d& a, const Eigen::Vector3d& b) const {
  const double s = std::abs(Before(a));
  const double k = std::abs(Before(b));
  const Eigen::Vector2d pa = InPlane(a);
  const Eigen::Vector2d pb = InPlane(b);
  Eigen::Vector2d x = (k * pa + s * pb) / (s + k);
  // (x - a) / s - F x - offset = (b - x) / k, the power being that where the ray passes.
  for (int pass = 0; pass < (addition_ == 0 ? 1 : 8); ++pass) {
    const Local at = AtPlane(x);
    const Eigen::Matrix2d left = (s + k) * Eigen::Matrix2d::Identity() - s * k * at.power;
    const Eigen::Vector2d right = k * pa + s * pb + s * k * at.offset;
    const Eigen::Vector2d next = left.inverse() * right;
    x = pass == 0 ? next : Eigen::Vector2d((x + next) / 2);
  }
  return At(x.x(), x.y());
}

Eigen::Vector3d LensBeforeEye::Aim(const Eigen::Vector3d& eye,
                                   const Eigen::Vector3d& target) const {
  if (Before(target) <= 0) return (target - eye).normalized();
  return (Crossing(target, eye) - eye).normalized();
}

Eigen::Vector3d LensBeforeEye::Apparent(const Eigen::Vector3d& camera,
                                        const Eigen::Vector3d& point) const {
  const double s = -Before(point);
  const double k = Before(camera);
  if (s <= 0 || k <= 1 || s >= kFadeToMm) return point;
  const Eigen::Vector3d crossing = Crossing(point, camera);
  const double seen_s = s / (1 - mean_power_ * s);
  const Eigen::Vector3d seen = camera + (crossing - camera) * ((k + seen_s) / k);
  return seen + Smooth(kFadeFromMm, kFadeToMm, s) * (point - seen);
}

LensBeforeEye::Ray LensBeforeEye::Behind(const Eigen::Vector3d& camera,
                                         const Eigen::Vector3d& direction) const {
  const double falls = -normal_.dot(direction);
  if (falls <= 0 || Before(camera) <= 0) return {camera, direction};
  const Eigen::Vector3d at = camera + direction * (Before(camera) / falls);
  const Eigen::Vector2d x = InPlane(at);
  const Local local = AtPlane(x);
  // Millimetres across for each one deeper; light comes the other way.
  const Eigen::Vector2d slope =
      Eigen::Vector2d(across_.dot(direction), up_.dot(direction)) / falls -
      (local.power * x + local.offset);
  return {at, (slope.x() * across_ + slope.y() * up_ - normal_).normalized()};
}

std::array<LensBeforeEye, 2> LensesOf(const Spectacles& spectacles, double pd_mm) {
  return {LensBeforeEye(spectacles, pd_mm, 1), LensBeforeEye(spectacles, pd_mm, -1)};
}

}  // namespace nearpoint::simulate
