// Millimetres of a screen, and where a target on it, or on a strip under the lens, lies in the
// camera frame. Screen frame: millimetres from the top left corner of the visible picture, x right
// and y down as a person sees it; places above or beside the picture are negative or beyond its
// size.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>

#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

struct ScreenScale {
  double mm_per_px = 0;
  double relative_sd = 0;
};

// From the outline that a person matched to an ID-1 card, its size in pixels of the screen (device
// pixels, not scaled ones). One deviation of a matched edge: a pixel, or 0.3 mm where that is more
// (the eye at an edge; our own judgement). Errors: kBadValue where width by height is not that of a
// card within 2 %, which is a slip of the matching, or the pixels come out outside 0.03 to 0.6 mm.
[[nodiscard]] Result<ScreenScale> ScaleFromOutline(double width_px, double height_px);

// What the operating system reports of the screen: millimetres and pixels. Nothing where it agrees
// with the card within 3 % and three deviations; else one sentence that says both. Screens that are
// scaled, mirrored or connected through an adapter report wrongly; the card is right then.
[[nodiscard]] std::optional<std::string> CompareWithReported(const ScreenScale& scale, int width_px,
                                                             double width_mm);

struct TargetPlace {
  Eigen::Vector3d in_camera_mm = Eigen::Vector3d::Zero();
  double sd_mm = 0;  // of each coordinate
};

// A target on the screen. lens: the middle of the lens in the screen frame. The lens is taken to
// look square out of the screen, with a deviation of 5 degrees (our own judgement; lids of laptops
// hold both in one frame). Errors: kBadValue where target and lens are over 600 mm apart.
[[nodiscard]] Result<TargetPlace> TargetOnScreen(const ScreenScale& scale,
                                                 const Eigen::Vector2d& target_px,
                                                 const Eigen::Vector2d& lens_mm);

// The printed strip: its letter this far under the middle of the lens and this far to the right as
// a person sees it, on the surface around the lens. Errors: kBadValue outside 3 to 200 mm below.
[[nodiscard]] Result<TargetPlace> TargetOnStrip(double below_mm, double right_mm);

// For a profile in which nobody said where the target is: the strip of the sheet right under the
// lens of a laptop.
[[nodiscard]] TargetPlace AssumedTarget();

}  // namespace nearpoint
