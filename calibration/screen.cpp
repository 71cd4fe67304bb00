#include "calibration/screen.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace nearpoint {
namespace {

// ISO/IEC 7810, ID-1.
constexpr double kCardWidthMm = 85.60, kCardHeightMm = 53.98;
constexpr double kCardSd = 0.0008;
constexpr double kSquareSdDeg = 5;

std::string Text(const char* format, double a, double b) {
  char text[200];
  std::snprintf(text, sizeof text, format, a, b);
  return text;
}

// The target lies on a plane through the lens that is square to its axis only within some degrees.
double DepthSd(double distance_mm) {
  return distance_mm * std::tan(kSquareSdDeg * std::numbers::pi / 180);
}

}  // namespace

Result<ScreenScale> ScaleFromOutline(double width_px, double height_px) {
  if (!(width_px > 50) || !(height_px > 30) || width_px > 20000 || height_px > 20000) {
    return Fail(ErrorCode::kBadValue,
                "The matched outline must be given in pixels of the screen, width and height.");
  }
  const double wide = kCardWidthMm / width_px, high = kCardHeightMm / height_px;
  if (std::abs(wide / high - 1) > 0.02) {
    return Fail(
        ErrorCode::kBadValue,
        Text("The matched outline is %.0f by %.0f pixels, which is not the shape of a card; "
             "match both its width and its height.",
             width_px, height_px));
  }
  // Two edges each way; weights by their deviations.
  const auto relative = [](double px, double mm_per_px, double mm) {
    const double edge_mm = std::max(mm_per_px, 0.3);
    return std::hypot(std::sqrt(2.0) * edge_mm / (px * mm_per_px), kCardSd * 85.60 / mm);
  };
  const double sd_wide = relative(width_px, wide, kCardWidthMm);
  const double sd_high = relative(height_px, high, kCardHeightMm);
  const double a = 1 / (sd_wide * sd_wide), b = 1 / (sd_high * sd_high);
  ScreenScale scale{(a * wide + b * high) / (a + b), 1 / std::sqrt(a + b)};
  if (scale.mm_per_px < 0.03 || scale.mm_per_px > 0.6) {
    return Fail(ErrorCode::kBadValue,
                Text("A pixel of this screen would be %.3f mm; screens have %.2f to 0.6 mm.",
                     scale.mm_per_px, 0.03));
  }
  return scale;
}

std::optional<std::string> CompareWithReported(const ScreenScale& scale, int width_px,
                                               double width_mm) {
  if (width_px <= 0 || !(width_mm > 0)) {
    return "The operating system does not know the size of the screen; the card's measure is used.";
  }
  const double by_card = scale.mm_per_px * width_px;
  const double off = std::abs(by_card / width_mm - 1);
  if (off <= std::max(0.03, 3 * scale.relative_sd)) return std::nullopt;
  return Text(
      "The operating system says the screen is %.0f mm wide, the card says %.0f mm; the card's "
      "measure is used.",
      width_mm, by_card);
}

Result<TargetPlace> TargetOnScreen(const ScreenScale& scale, const Eigen::Vector2d& target_px,
                                   const Eigen::Vector2d& lens_mm) {
  const Eigen::Vector2d target_mm = target_px * scale.mm_per_px;
  const Eigen::Vector2d from_lens = target_mm - lens_mm;
  if (!from_lens.allFinite() || from_lens.norm() > 600) {
    return Fail(ErrorCode::kBadValue,
                "Target and lens would be over 600 mm apart; give the lens in millimetres from the "
                "screen's top left corner and the target in pixels.");
  }
  TargetPlace place;
  // The camera looks back at the person: its x runs to the person's left.
  place.in_camera_mm = {-from_lens.x(), from_lens.y(), 0};
  constexpr double kLensPlaceSdMm = 2;  // a person with a ruler
  place.sd_mm = std::max({std::hypot(kLensPlaceSdMm, scale.relative_sd * target_mm.norm()),
                          DepthSd(from_lens.norm())});
  return place;
}

Result<TargetPlace> TargetOnStrip(double below_mm, double right_mm) {
  if (!(below_mm >= 3 && below_mm <= 200) || !(std::abs(right_mm) <= 200)) {
    return Fail(ErrorCode::kBadValue,
                "The letter must be 3 to 200 mm below the middle of the lens and at most 200 mm to "
                "the side.");
  }
  TargetPlace place;
  place.in_camera_mm = {-right_mm, below_mm, 0};
  place.sd_mm = std::max(1.0, DepthSd(std::hypot(below_mm, right_mm)));
  return place;
}

TargetPlace AssumedTarget() { return {{0, 12, 0}, 6}; }

}  // namespace nearpoint
