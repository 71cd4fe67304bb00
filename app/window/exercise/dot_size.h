// How many millimetres a dot of the screen has, and how sure that is.
#pragma once

#include "app/store/store.h"
#include "vision/core/units.h"

class QWidget;

namespace nearpoint {

// A dot is a device pixel; widgets count in points of devicePixelRatio() dots.
struct DotSize {
  double mm_per_dot = 0;  // 0: the screen does not say and nobody measured
  double relative_sd = 0;
  bool measured = false;  // by the card
};

// What a screen says of itself is off by this much on many (no source): what it costs not to hold a
// card against it.
inline constexpr int kStatedPercent = 5;

// The card's, if it was held against this screen (same name and size in dots), else what the screen
// says of itself.
[[nodiscard]] DotSize DotSizeOf(const QWidget& widget, const Store& store);

// Keeps what the card said. The match is good to 0.3 mm of 85.60 mm.
Result<void> KeepDotSize(const QWidget& widget, double mm_per_dot, Store& store);

}  // namespace nearpoint
