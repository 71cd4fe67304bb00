#include "vision/simulate/lighting.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace nearpoint::simulate {

Lighting::Lighting(const Light& light, const Eigen::Matrix3d& camera_from_head,
                   const Eigen::Vector3d& eye_mid_in_camera_mm) {
  const auto direction = [&](double x, double y, double z) {
    return Eigen::Vector3f(
        (camera_from_head.transpose() * Eigen::Vector3d(x, y, z).normalized()).cast<float>());
  };
  const auto place = [&](double x, double y, double z) {
    return Eigen::Vector3f(
        (camera_from_head.transpose() * (Eigen::Vector3d(x, y, z) - eye_mid_in_camera_mm))
            .cast<float>());
  };
  const auto level = static_cast<float>(light.level);
  const auto side = static_cast<float>(std::abs(light.side));
  camera_ = place(0, 0, 0);
  screen_ = place(0, 110, -10);
  up_ = direction(0, -1, 0);
  key_ = direction(-0.35, -0.75, -0.75);
  side_ = direction(light.side, -0.25, -0.3);
  ambient_ = Eigen::Vector3f(0.47F, 0.45F, 0.43F) * level * (1 - 0.55F * side);
  ground_ = Eigen::Vector3f(0.20F, 0.22F, 0.25F) * level * (1 - 0.55F * side);
  key_colour_ = Eigen::Vector3f(0.52F, 0.55F, 0.58F) * level * (1 - 0.9F * side);
  side_colour_ = Eigen::Vector3f(0.95F, 1.0F, 1.02F) * level * side;
  screen_colour_ = Eigen::Vector3f(0.085F, 0.078F, 0.070F);
}

Lighting::Sample Lighting::At(const Eigen::Vector3f& point_mm, const Eigen::Vector3f& normal,
                              float openness) const {
  const float sky = 0.5F + 0.5F * normal.dot(up_);
  // Light through the skin softens the edge of the shade.
  const auto wrapped = [&](const Eigen::Vector3f& to) {
    return std::max(0.0F, (normal.dot(to) + 0.22F) / 1.22F);
  };
  const float half_open = 0.4F + 0.6F * openness;
  Sample out;
  out.diffuse = (ground_ + sky * (ambient_ - ground_)) * openness;
  out.diffuse +=
      key_colour_ * (wrapped(key_) * half_open) + side_colour_ * (wrapped(side_) * half_open);
  const Eigen::Vector3f to_screen = screen_ - point_mm;
  const float distance = std::max(120.0F, to_screen.norm());
  // A lit area, not a point: the glow rises slower than the square close by.
  const float glow = std::min(3.0F, (400 / distance) * (400 / distance));
  out.diffuse += screen_colour_ * (glow * wrapped(to_screen / distance) * half_open);

  const Eigen::Vector3f view = (camera_ - point_mm).normalized();
  const auto gloss = [&](const Eigen::Vector3f& to) {
    const float cosine = std::max(0.0F, normal.dot((to + view).normalized()));
    const float c4 = cosine * cosine * cosine * cosine;
    return c4 * c4 * c4;  // twelfth power
  };
  out.gloss =
      openness * (0.045F * key_colour_[1] * gloss(key_) + 0.05F * side_colour_[1] * gloss(side_));
  return out;
}

}  // namespace nearpoint::simulate
