#include "app/exercise/eye_window.h"

#include <cmath>
#include <vector>

#include "app/exercise/pair_geometry.h"
#include "app/measure/convergence.h"
#include "app/measure/robust.h"

namespace nearpoint {
namespace {

constexpr double kUnknownSplitSd = 3;  // degrees, where the tracker states none
constexpr double kLeastSplitSd = 0.5;

double SplitSd(const EyeSample& left, const EyeSample& right, std::optional<Angle> vergence_sd) {
  const double l = left.rotation->horizontal_sd.deg();
  const double r = right.rotation->horizontal_sd.deg();
  const double v = vergence_sd ? vergence_sd->deg() : 0;
  // var(left - right) = 2 var(left) + 2 var(right) - var(left + right).
  const double variance = 2 * l * l + 2 * r * r - v * v;
  if (!std::isfinite(variance) || variance <= 0) return kUnknownSplitSd;
  return std::max(kLeastSplitSd, std::sqrt(variance));
}

}  // namespace

std::optional<Length> ScreenDistance(const DistanceSample& s,
                                     const std::optional<Eigen::Vector3d>& screen_in_camera_mm) {
  if (!s.distance) return std::nullopt;
  if (!screen_in_camera_mm || !s.eye_mid_mm) return s.distance->value;
  return Length::Millimeters((*s.eye_mid_mm - *screen_in_camera_mm).norm());
}

std::optional<EyeReading> ReadEyes(const DistanceSample& s, Length pupils, Length separation,
                                   const std::optional<Eigen::Vector3d>& screen_in_camera_mm) {
  if (s.mode == TrackMode::kLost || !s.distance || !s.vergence || !s.left_eye || !s.right_eye ||
      !s.left_eye->rotation || !s.right_eye->rotation) {
    return std::nullopt;
  }
  const Length screen = *ScreenDistance(s, screen_in_camera_mm) + kCorneaToRotation;
  EyeReading r;
  r.time_s = ToSeconds(s.time);
  r.vergence = s.vergence->deg();
  r.left = s.left_eye->rotation->horizontal.deg();
  r.right = s.right_eye->rotation->horizontal.deg();
  if (!std::isfinite(screen.mm()) || screen <= kCorneaToRotation || !std::isfinite(r.vergence) ||
      !std::isfinite(r.left) || !std::isfinite(r.right)) {
    return std::nullopt;
  }
  // A head turned to the left, or standing to the left of the lens, turns the left eye in and the
  // right eye out by as much.
  double aside = s.head ? s.head->yaw.deg() : 0;
  if (s.eye_mid_mm) aside += Angle::Radians(std::atan2(s.eye_mid_mm->x(), screen.mm())).deg();
  if (std::isfinite(aside)) {
    r.left -= aside;
    r.right += aside;
  }
  r.split_sd = SplitSd(*s.left_eye, *s.right_eye, s.vergence_sd);
  r.far = PairAngle(pupils, Length(), screen).deg();
  r.asked = PairAngle(pupils, separation, screen).deg();
  return r;
}

void EyeWindow::Add(const EyeReading& reading) {
  readings_.push_back(reading);
  Trim(reading.time_s);
}

void EyeWindow::Trim(double now_s) {
  while (!readings_.empty() && readings_.front().time_s < now_s - length_s_) readings_.pop_front();
}

bool EyeWindow::Full(double share) const {
  return static_cast<int>(readings_.size()) >= least_ &&
         readings_.back().time_s - readings_.front().time_s >= share * length_s_;
}

std::optional<EyeMedians> EyeWindow::Medians(double gain) const {
  if (static_cast<int>(readings_.size()) < least_) return std::nullopt;
  const auto median = [this](auto&& value) {
    std::vector<double> all;
    all.reserve(readings_.size());
    for (const EyeReading& r : readings_) all.push_back(value(r));
    return MedianOf(std::move(all));
  };
  EyeMedians m;
  m.vergence = median([](const EyeReading& r) { return r.vergence; });
  m.left = median([](const EyeReading& r) { return r.left; });
  m.right = median([](const EyeReading& r) { return r.right; });
  m.split_sd = median([](const EyeReading& r) { return r.split_sd; });
  m.far = median([](const EyeReading& r) { return r.far; });
  m.asked = median([](const EyeReading& r) { return r.asked; });
  std::vector<double> offsets;
  for (const EyeReading& r : readings_) offsets.push_back(r.vergence - gain * r.far);
  m.offset_spread = RobustSpread(offsets);
  m.offset = MedianOf(offsets);
  const auto half = static_cast<std::ptrdiff_t>(offsets.size() / 2);
  m.drift = MedianOf({offsets.begin() + half, offsets.end()}) -
            MedianOf({offsets.begin(), offsets.begin() + half});
  return m;
}

}  // namespace nearpoint
