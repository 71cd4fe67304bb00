// The zero of a held card: the card was laid on the bridge of the nose, where its distance is
// known.
#pragma once

#include <span>

#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

// From the target on a card that touches the bridge between the eyes to the corneal midpoint: the
// skin there stands about 10 to 15 mm before the corneal plane and the card touches it about a
// centimetre below the eyes. No published value was found; computed on rendered heads (17 to 21
// mm), with a spread made wide. Measured on the person with a ruler it can be better.
inline constexpr UncertainLength kTouchDistance{Length::Millimeters(19), Length::Millimeters(3)};

// One picture: when, and what the held card read without a zero.
struct TouchSample {
  Time time{};
  Length distance;
  Length sd;
};

struct TouchOptions {
  Time least = std::chrono::milliseconds(1000);  // that the card must rest
  Length stillness = Length::Millimeters(4);     // within which it rests
};

// What a held card reads too much: the reading while it rests nearest, less where it then is.
// touch: the true distance from target to corneal midpoint in touch; touch_sd its deviation. The
// card comes from farther away and ends on the nose. Errors: kInsufficient when it never rests or
// rests too short, in one sentence that says what to do.
[[nodiscard]] Result<UncertainLength> ZeroFromTouch(std::span<const TouchSample> samples,
                                                    Length touch, Length touch_sd,
                                                    const TouchOptions& options = {});

}  // namespace nearpoint
