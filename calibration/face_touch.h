// The zero of a held card: the card was laid on the bridge of the nose, where its distance is
// known.
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <optional>
#include <span>

#include "calibration/print_check.h"
#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

// How far the target of a card that touches the bridge between the eyes stands before the corneal
// plane: the skin there stands about 10 to 15 mm before it, and the card is 1 mm thick and tilted.
// No published value was found; computed on rendered heads (12 to 17 mm), with a spread made wide.
// Measured on the person with a ruler it can be better.
inline constexpr UncertainLength kTouchDepth{Length::Millimeters(14.5), Length::Millimeters(3)};

// A head that a picture places more poorly than this tells no distance of a held card, and no zero:
// one deviation, so that nearly all that is told is within what is asked of it (3 mm in the light).
inline constexpr Length kPoorestHead = Length::Millimeters(3);

// One picture of a card before a face, without a zero: how much nearer to the lens the card's
// target is than the corneal midpoint, along the line of sight to that midpoint, and how far it is
// beside that line.
struct TouchSample {
  Time time{};
  Length before;
  Length beside;
  Length sd;                            // of the place of the head in this picture
  std::optional<PrintAspect> aspect{};  // of the card's print, where this picture tells
};
// Of a target and a corneal midpoint in the camera frame, millimetres.
[[nodiscard]] TouchSample SampleTouch(Time time, const Eigen::Vector3d& target_mm,
                                      const Eigen::Vector3d& eye_mid_mm, Length sd);

struct TouchOptions {
  Time least = std::chrono::milliseconds(1000);  // that the card must rest
  Length stillness = Length::Millimeters(4);     // within which it rests
  // Pictures that gave no sample because they were too dark: then a rest that is not found is
  // nobody's fault but the light's.
  std::size_t too_dark = 0;
};

// Whether a zero that was refused was refused for want of light.
[[nodiscard]] bool TooDark(std::span<const TouchSample> samples, const TouchOptions& options);

// How much too far the eyes are placed along the line of sight: how far the target is before them
// while the card rests nearest, less how far it then is. touch: how far the target truly is before
// the corneal plane in touch; touch_sd its deviation. What lies beside the line of sight is seen
// and needs no zero. The card comes from farther away and ends on the nose. Errors: kInsufficient
// when it never rests, rests too short or beside the bridge of the nose, or where the pictures
// place the head too poorly (a dark room); kMismatch for a card of another shape (CheckAspect); in
// one sentence that says what to do.
[[nodiscard]] Result<UncertainLength> ZeroFromTouch(std::span<const TouchSample> samples,
                                                    Length touch, Length touch_sd,
                                                    const TouchOptions& options = {});

}  // namespace nearpoint
