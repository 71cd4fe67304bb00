// The letter to look at: how fine it is. Pure.
#pragma once

#include <cmath>
#include <numbers>

#include "calibration/print_scale.h"

namespace nearpoint {

// A 20/30 letter has strokes of 1.5 minutes of arc, and is five strokes high (ISO 8596).
inline constexpr double kLetterDetailArcmin = 1.5;
inline constexpr int kLetterStrokes = 5;
// The distance that the letter of the sheet and that of the screen are made for.
inline constexpr Length kLetterDistance = Length::Millimeters(400);

[[nodiscard]] inline Length DetailAt(Length distance, double arcmin) {
  return distance * std::tan(arcmin / 60 * std::numbers::pi / 180);
}
[[nodiscard]] inline double ArcminOf(Length detail, Length distance) {
  return std::atan(detail / distance) * 180 * 60 / std::numbers::pi;
}

// A stroke of the letter E on the printed strip and on the printed card, as it was printed.
[[nodiscard]] inline Length PrintedLetterDetail(const Profile& profile) {
  return DetailAt(kLetterDistance, kLetterDetailArcmin) * LengthFactor(PrintOf(profile));
}

}  // namespace nearpoint
