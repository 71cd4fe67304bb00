#include "vision/simulate/head_shape.h"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "vision/simulate/performance.h"
#include "vision/simulate/random.h"

namespace nearpoint::simulate {
namespace {

// Rows of the skull of a head of scale 1: height, half width, the front in the middle plane, half
// depth.
struct SkullRow {
  double y, width, front, depth;
};
constexpr std::array<SkullRow, 20> kSkull{{
    {128, 3, -96, 4},     {124, 26, -70, 32},  {116, 44, -46, 54},  {104, 55, -26, 70},
    {90, 65, -8, 84},     {72, 68.5, 3, 92},   {55, 71.5, 9.5, 97}, {40, 72.5, 11.5, 98},
    {22, 71.5, 10.5, 97}, {8, 70, 5.5, 94},    {-8, 69.5, 3.5, 92}, {-25, 68.5, 3.5, 90},
    {-45, 65.5, 6, 88},   {-65, 62.5, 8, 86},  {-82, 56, 6.5, 80},  {-97, 48, 5, 72},
    {-108, 40, 0, 62},    {-116, 42, -22, 56}, {-124, 50, -46, 54}, {-210, 56, -56, 56},
}};

// The table of LidHeight, millimetres.
constexpr double kLidLeft = 8;
constexpr double kLidBottom = -18;
constexpr double kLidStep = 0.5;
constexpr int kLidCols = 100;
constexpr int kLidRows = 68;

double Gauss(double x, double sigma) { return std::exp(-0.5 * x * x / (sigma * sigma)); }

// Cubic Hermite through the rows with finite-difference slopes.
SkullRow Row(double y) {
  y = std::clamp(y, kSkull.back().y, kSkull.front().y);
  std::size_t i = 0;
  while (i + 2 < kSkull.size() && y < kSkull[i + 1].y) ++i;
  const auto value = [&](double SkullRow::*member) {
    const SkullRow& a = kSkull[i];
    const SkullRow& b = kSkull[i + 1];
    const SkullRow& before = kSkull[i == 0 ? 0 : i - 1];
    const SkullRow& after = kSkull[std::min(i + 2, kSkull.size() - 1)];
    const double h = b.y - a.y;
    const double t = (y - a.y) / h;
    const double slope_a = (b.*member - before.*member) / (b.y - before.y) * h;
    const double slope_b = (after.*member - a.*member) / (after.y - a.y) * h;
    const double t2 = t * t;
    const double t3 = t2 * t;
    return (2 * t3 - 3 * t2 + 1) * (a.*member) + (t3 - 2 * t2 + t) * slope_a +
           (3 * t2 - 2 * t3) * (b.*member) + (t3 - t2) * slope_b;
  };
  return {y, value(&SkullRow::width), value(&SkullRow::front), value(&SkullRow::depth)};
}

// How far the surface has come round from the front: 1 in front .. 0 at the side, of a
// superellipse.
constexpr double kSkullPower = 2.35;
double Round(double sine) {
  const double s = std::min(1.0, std::abs(sine));
  return std::pow(std::max(0.0, 1 - std::pow(s, kSkullPower)), 1 / kSkullPower);
}

}  // namespace

HeadShape::HeadShape(const Appearance& appearance)
    : scale_(appearance.head_scale),
      eye_x_(appearance.distance_pd.mm() / 2),
      iris_radius_(appearance.iris.mm() / 2),
      outer_corner_(Eigen::Vector3d(42.5, -1.0, -9.0) * scale_),
      inner_corner_(Eigen::Vector3d(17.5, -2.8, -4.4) * scale_) {
  // Two bumps carry the skin exactly through the corners.
  const auto bump = [&](const Eigen::Vector3d& at, const Eigen::Vector3d& of) {
    return Gauss((at - of).head<2>().norm(), 4 * scale_);
  };
  Eigen::Matrix2d weights;
  weights << 1, bump(outer_corner_, inner_corner_), bump(inner_corner_, outer_corner_), 1;
  const Eigen::Vector2d missing(
      outer_corner_.z() - Uncorrected(outer_corner_.x(), outer_corner_.y()),
      inner_corner_.z() - Uncorrected(inner_corner_.x(), inner_corner_.y()));
  corner_weight_ = weights.inverse() * missing;

  for (int j = 0; j < kLidRows; ++j) {
    for (int i = 0; i < kLidCols; ++i) {
      lid_height_.push_back(
          static_cast<float>(Height(kLidLeft + i * kLidStep, kLidBottom + j * kLidStep)));
    }
  }
}

double HeadShape::LidHeight(double abs_x, double y) const {
  const double u = (abs_x - kLidLeft) / kLidStep;
  const double v = (y - kLidBottom) / kLidStep;
  if (!(u >= 0 && v >= 0 && u < kLidCols - 1 && v < kLidRows - 1)) return Height(abs_x, y);
  const int i = static_cast<int>(u);
  const int j = static_cast<int>(v);
  const double a = u - i;
  const double b = v - j;
  const float* at = &lid_height_[static_cast<std::size_t>(j * kLidCols + i)];
  return (1 - b) * ((1 - a) * at[0] + a * at[1]) +
         b * ((1 - a) * at[kLidCols] + a * at[kLidCols + 1]);
}

double HeadShape::Features(double x, double y) const {
  const double ax = std::abs(x);
  double z = 0;
  // Eye sockets and the hollow between lid and brow.
  z -= 11.0 * Gauss(ax - 31, 13.5) * Gauss(y - 1, 9);
  z -= 4.0 * Gauss(ax - 19, 6) * Gauss(y - 3, 8);
  z -= 2.0 * Gauss(ax - 27, 9) * Gauss(y - 11, 4);
  // Brow ridge.
  z += 3.2 * Gauss(ax - 30, 16) * Gauss(y - 20 + 0.004 * (ax - 30) * (ax - 30), 5.5);
  z += 1.2 * Gauss(x, 9) * Gauss(y - 19, 6);
  // Temples.
  z -= 3.0 * Gauss(ax - 58, 9) * Gauss(y - 20, 18);
  // Nose: ridge, tip, wings.
  {
    const double down = std::clamp((10 - y) / 46, 0.0, 1.2);  // 0 at the root .. 1 at the tip
    const double rise =
        SmoothStep(0, 0.35, down) * 4.5 + 18.0 * std::pow(std::min(down, 1.0), 1.25);
    const double edge = -48 + 0.014 * ax * ax;  // the underside rises toward the wings
    const double below_tip = SmoothStep(edge, edge + 11, y);
    const double width = 4.8 + 4.6 * std::min(down, 1.0);
    z += rise * below_tip * std::exp(-std::pow(ax / width, 2.0) * 0.62);
    z += 3.6 * Gauss(x, 6.0) * Gauss(y + 37, 6);
    z += 7.6 * Gauss(ax - 12.8, 4.2) * std::exp(-std::pow(std::abs(y + 38) / 7.2, 2.4));
    z -= 1.6 * Gauss(ax - 19.5, 2.4) * Gauss(y + 38, 6.5);  // furrow beside the wing
    z += 3.0 * Gauss(x, 4) * Gauss(y + 46, 4);              // columella
  }
  // Cheeks.
  z += 4.5 * Gauss(ax - 42, 15) * Gauss(y + 26, 14);
  z -= 2.6 * Gauss(ax - 47, 10) * Gauss(y + 62, 14);
  // Nasolabial fold.
  {
    const double fold = 20 + 0.42 * (-36 - y);
    z -= 1.2 * Gauss(ax - fold, 2.8) * SmoothStep(-70, -58, y) * (1 - SmoothStep(-44, -36, y));
  }
  // Mouth.
  {
    const double half = 25;
    const double in_mouth = 1 - SmoothStep(half - 10, half + 3, ax);
    const double line = -64 - 1.2 * Gauss(x, 3) + 1.2 * Gauss(ax - 7, 4) - 0.0012 * ax * ax;
    z += 4.6 * Gauss(x, 21) * Gauss(y + 62, 15);
    z += 3.4 * in_mouth * Gauss(y - line - 4.0, 3.2);
    z += 4.4 * in_mouth * Gauss(y - line + 5.4, 3.8);
    z -= 2.2 * in_mouth * Gauss(y - line, 1.3);
    z -= 2.4 * Gauss(ax - half - 1, 3.5) * Gauss(y + 65.5, 3.5);
    z -= 1.0 * Gauss(x, 2.4) * Gauss(y + 53, 5);  // philtrum
    z += 0.6 * Gauss(ax - 4.5, 1.6) * Gauss(y + 53.5, 5);
  }
  z -= 4.0 * Gauss(x, 20) * Gauss(y + 80, 5);
  z += 6.0 * Gauss(x, 13) * Gauss(y + 95, 9);
  return z;
}

double HeadShape::Uncorrected(double x, double y) const {
  const double u = x / scale_;
  const double v = y / scale_;
  const SkullRow row = Row(v);
  const double sine = u / row.width;
  const double side = 1 - SmoothStep(0.78, 0.97, std::abs(sine));
  const double skull = scale_ * (row.front - row.depth * (1 - Round(sine)) + side * Features(u, v));
  // Lids lie on the eyeball.
  const double dx = std::abs(x) - eye_x_;
  const double r2 = dx * dx + y * y;
  const double lid = 0.3 - r2 / 27 - r2 * r2 / 26000;
  const double difference = skull - lid;
  return 0.5 * (skull + lid + std::sqrt(difference * difference + 2.2));
}

double HeadShape::Height(double x, double y) const {
  const Eigen::Vector2d p(std::abs(x), y);
  return Uncorrected(x, y) +
         corner_weight_(0) * Gauss((p - outer_corner_.head<2>()).norm(), 4 * scale_) +
         corner_weight_(1) * Gauss((p - inner_corner_.head<2>()).norm(), 4 * scale_);
}

double HeadShape::HalfWidth(double y) const { return scale_ * Row(y / scale_).width; }

double HeadShape::Hair(double azimuth, double y) const {
  const double v = y / scale_;
  const double a = std::abs(azimuth) * 180 / std::numbers::pi;
  // In front at the top of the forehead, back at the temples, down before the ears.
  double line = 70 + 5 * Gauss(a - 40, 14) - 10 * SmoothStep(45, 68, a);
  line -= 66 * SmoothStep(66, 77, a);
  line -= 90 * SmoothStep(90, 104, a);
  return SmoothStep(line - 2.5, line + 3.5, v);
}

Eigen::Vector3d HeadShape::Surface(double azimuth, double y) const {
  const SkullRow row = Row(y / scale_);
  const double sine = std::sin(azimuth);
  const double x = scale_ * row.width * sine;
  double z = 0;
  if (std::abs(azimuth) < std::numbers::pi / 2) {
    z = Height(x, y);
  } else {
    z = scale_ * (row.front - row.depth * (1 + Round(sine)));
  }
  const double hair = Hair(azimuth, y);
  const double thick = scale_ * hair * (3 + 4 * SmoothStep(72, 112, y / scale_));
  return {x + thick * sine, y + 0.6 * thick * SmoothStep(85, 120, y / scale_),
          z + thick * std::cos(azimuth)};
}

double HeadShape::AlongToX(double along) const {
  return inner_corner_.x() + along * (outer_corner_.x() - inner_corner_.x());
}

namespace {
// A hump from 0 at both ends to 1 at `peak`.
double Hump(double along, double peak, double power) {
  const double t = std::pow(std::clamp(along, 0.0, 1.0), std::log(0.5) / std::log(peak));
  return std::pow(std::max(0.0, 4 * t * (1 - t)), power);
}
}  // namespace

double HeadShape::UpperMargin(double along, const Lids& lids) const {
  const double base = inner_corner_.y() + along * (outer_corner_.y() - inner_corner_.y());
  const double peak = (eye_x_ - 1 - inner_corner_.x()) / (outer_corner_.x() - inner_corner_.x());
  // Rests 1.5 mm below the top of the iris and moves with it.
  const double top = iris_radius_ - 1.5 + 0.85 * kLimbusMm * std::sin(lids.gaze_up_rad);
  const double rise = std::max(2.0, top + 1.8);
  const double open = base + rise * Hump(along, peak, 0.82);
  if (lids.closed <= 0) return open;
  return open + std::min(1.0, lids.closed) * (LowerMargin(along, lids) - 0.15 - open);
}

double HeadShape::LowerMargin(double along, const Lids& lids) const {
  const double base = inner_corner_.y() + along * (outer_corner_.y() - inner_corner_.y());
  const double peak = (eye_x_ + 2 - inner_corner_.x()) / (outer_corner_.x() - inner_corner_.x());
  const double bottom = -iris_radius_ - 0.5 + 0.45 * kLimbusMm * std::sin(lids.gaze_up_rad) +
                        1.3 * std::min(1.0, lids.closed);
  const double fall = std::max(1.5, -1.8 - bottom);
  return base - fall * Hump(along, std::min(peak, 0.7), 0.92);
}

LidTable::LidTable(const HeadShape& shape, const Lids& lids)
    : inner_x_(shape.InnerCorner().x()), width_(shape.OuterCorner().x() - shape.InnerCorner().x()) {
  const auto cosine = [&](double before, double after) {
    const double slope = (after - before) * kEntries / (2 * width_);
    return static_cast<float>(1 / std::sqrt(1 + slope * slope));
  };
  for (int i = 0; i <= kEntries; ++i) {
    const double along = static_cast<double>(i) / kEntries;
    const double before = static_cast<double>(std::max(0, i - 1)) / kEntries;
    const double after = static_cast<double>(std::min(kEntries, i + 1)) / kEntries;
    entries_.push_back({static_cast<float>(shape.UpperMargin(along, lids)),
                        cosine(shape.UpperMargin(before, lids), shape.UpperMargin(after, lids)),
                        static_cast<float>(shape.LowerMargin(along, lids)),
                        cosine(shape.LowerMargin(before, lids), shape.LowerMargin(after, lids))});
  }
}

LidDistance LidTable::At(double abs_x, double y) const {
  LidDistance d;
  d.along = (abs_x - inner_x_) / width_;
  if (d.along <= 0 || d.along >= 1) {
    d.below_upper = d.above_lower = -std::max(-d.along, d.along - 1) * width_;
    return d;
  }
  const double at = d.along * kEntries;
  const auto i = std::min(static_cast<std::size_t>(at), entries_.size() - 2);
  const double part = at - static_cast<double>(i);
  const auto mix = [&](float Entry::*member) {
    return entries_[i].*member + part * (entries_[i + 1].*member - entries_[i].*member);
  };
  d.below_upper = (mix(&Entry::upper) - y) * mix(&Entry::upper_cosine);
  d.above_lower = (y - mix(&Entry::lower)) * mix(&Entry::lower_cosine);
  return d;
}

double HeadShape::Crease(double along) const {
  const double base = inner_corner_.y() + along * (outer_corner_.y() - inner_corner_.y());
  return base +
         scale_ * (2.0 + (iris_radius_ + 5.0) * Hump(std::clamp(along, 0.0, 1.0), 0.52, 0.7));
}

}  // namespace nearpoint::simulate
