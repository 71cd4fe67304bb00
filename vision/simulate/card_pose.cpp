#include "vision/simulate/card_pose.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace nearpoint::simulate {
namespace {

// A line over a profile of the face, z = height + slope (y - y0), that touches and never cuts it.
struct Rest {
  double height, slope;
};

// Lowest such line at y0 over the skin under the card. The height is a convex function of the
// slope, so a search that narrows finds it.
Rest RestAt(const HeadShape& shape, double y0, double half_width, double half_height) {
  std::vector<std::pair<double, double>> profile;  // y - y0, z
  for (double dy = -half_height; dy <= half_height; dy += 1) {
    double z = -1e9;
    for (double x = -half_width; x <= half_width; x += 2) {
      z = std::max(z, shape.Height(x, y0 + dy));
    }
    profile.emplace_back(dy, z);
  }
  const auto height = [&](double slope) {
    double top = -1e9;
    for (const auto& [dy, z] : profile) top = std::max(top, z - slope * dy);
    return top;
  };
  double low = -1;
  double high = 1;
  for (int i = 0; i < 60; ++i) {
    const double a = low + (high - low) / 3;
    const double b = high - (high - low) / 3;
    (height(a) < height(b) ? high : low) = height(a) < height(b) ? b : a;
  }
  const double slope = (low + high) / 2;
  return {height(slope), slope};
}

// The card's axes for a plane that falls back by `slope` as y grows: x to the patient's left, y
// down the face, z into the head.
Eigen::Matrix3d AxesOn(double slope) {
  const Eigen::Vector3d down = Eigen::Vector3d(0, -1, -slope).normalized();
  Eigen::Matrix3d axes;
  axes.col(0) = Eigen::Vector3d::UnitX();
  axes.col(1) = down;
  axes.col(2) = Eigen::Vector3d::UnitX().cross(down);
  return axes;
}

}  // namespace

Eigen::Matrix3d CardTurn(const CardProp& prop) {
  return (Eigen::AngleAxisd(prop.turned.rad(), Eigen::Vector3d::UnitY()) *
          Eigen::AngleAxisd(prop.tipped.rad(), Eigen::Vector3d::UnitX()) *
          Eigen::AngleAxisd(prop.rolled.rad(), Eigen::Vector3d::UnitZ()))
      .toRotationMatrix();
}

CardInHead CardOnFace(const CardProp& prop, const HeadShape& shape) {
  const double half_width = prop.width.mm() / 2;
  const double half_height = prop.height.mm() / 2;
  // Just above the brows, or with the upper edge under the nose.
  const double y0 = prop.place == CardPlace::kForehead ? 22 * shape.scale() + half_height
                                                       : -50 * shape.scale() - half_height;
  const Rest rest = RestAt(shape, y0, half_width, half_height);
  const Eigen::Matrix3d axes = AxesOn(rest.slope);
  CardInHead out;
  out.head_from_card = axes * CardTurn(prop);
  out.middle_mm =
      Eigen::Vector3d(0, y0, rest.height) - (prop.thickness.mm() + prop.gap.mm()) * axes.col(2);
  return out;
}

CardTouch CardOnNose(const CardProp& prop, const HeadShape& shape) {
  const double y = -prop.below.mm();
  // Along the ridge from the target down to where the card ends or the nose does.
  const double reach = std::min(prop.height.mm() / 2 - prop.target_in_card_mm.y(), 30.0);
  double slope = 0;
  for (double dy = 1; dy <= reach; dy += 1) {
    slope = std::max(slope, (shape.Height(0, y - dy) - shape.Height(0, y)) / dy);
  }
  CardTouch out;
  out.target_mm = Eigen::Vector3d(0, y, shape.Height(0, y) + prop.gap.mm());
  out.card.head_from_card = AxesOn(-slope) * CardTurn(prop);
  out.card.middle_mm = out.target_mm - out.card.head_from_card * prop.target_in_card_mm;
  return out;
}

}  // namespace nearpoint::simulate
