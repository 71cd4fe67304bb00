// A card without a pattern (bank, library, health card): its four straight edges. The corners are
// rounded and are not used.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>
#include <string_view>
#include <tl/expected.hpp>

#include "calibration/card_view.h"

namespace nearpoint {

struct PlainCardView {
  CardView edges;                               // four: top, right, bottom, left
  std::array<Eigen::Vector2d, 4> corners_px{};  // where the edges meet, beyond the rounding
  double found = 0;                             // share of the edges that is seen, 0 to 1
  double px_per_mm = 0;
};

enum class NoPlainCard {
  kNothing,  // no four lines that could be a card
  kHidden,   // a card, but an edge of it is covered for more than half or too faint
  kTooSmall,
  kCutOff,  // it reaches over the rim of the picture
};
[[nodiscard]] std::string_view ToText(NoPlainCard reason);

struct PlainCardOptions {
  // Shapes that no lens between these focal lengths (in picture widths) could make of an ID-1 card
  // are passed over.
  double least_focal = 0.5;
  double largest_focal = 2.0;
  // Where it must be, as far as one knows: each corner within slack_px of these, in turn from any
  // of them. Absent: anywhere.
  std::optional<std::array<Eigen::Vector2d, 4>> expected_px;
  double slack_px = 0;
  double tolerance =
      0.08;  // of height by width: a card of 100 x 60 mm (5 %) is found, and judged later
};

// Where a real card lies that was put on its place on the sheet, for a print whose size may be off
// by 10 %; pattern: the view of the sheet's pattern.
[[nodiscard]] PlainCardOptions BesidePattern(const CardView& pattern);

// picture: CV_8UC1 or CV_8UC3, as captured.
[[nodiscard]] tl::expected<PlainCardView, NoPlainCard> FindPlainCard(
    const cv::Mat& picture, const PlainCardOptions& options = {});

}  // namespace nearpoint
