// The marker pattern of the calibration card in a picture: which markers, and where their corners
// and edges are, to a fraction of a pixel.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>
#include <optional>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "calibration/card_view.h"

namespace nearpoint {

// A corner of a marker: where its two edges meet.
struct PatternCorner {
  int marker = 0;  // 0 to kMarkerCount - 1
  int corner = 0;  // 0 to 3 from the top left, clockwise as the marker is read
  Eigen::Vector2d card_mm;
  Eigen::Vector2d image_px;  // as captured, distortion included
  double sd_px = 0.1;        // of each coordinate
};

struct PatternView {
  std::vector<int> markers;            // those that agree with one flat card, ascending
  std::vector<PatternCorner> corners;  // four of each marker, in the same order
  CardView edges;                      // the same marks as edges: what an adjustment takes
  double px_per_mm = 0;                // mean over the card
  double bright = 0;                   // linear light of the white beside the markers, 0 to 1
};

enum class NoPattern {
  kNothing,       // no marker of the pattern
  kMirrored,      // the markers are there in mirror writing: the picture is flipped
  kTooFew,        // fewer than the asked number of markers agree
  kContradiction  // markers do not lie on one plane: a torn card, two cards, a screenshot of one
};
[[nodiscard]] std::string_view ToText(NoPattern reason);

struct PatternOptions {
  int least_markers = 2;
  std::optional<cv::Rect>
      region;             // look only here (from the picture before); clipped to the picture
  bool sub_pixel = true;  // false: corners to about half a pixel, no edges; a third of the time
  bool by_look = true;    // with sub_pixel, also markers that only look right where they must be;
                          // false where fingers or hair may lie across their edges
};

// picture: CV_8UC1 or CV_8UC3 (BGR), as captured. Markers that are covered, glossy or blurred
// beyond reading are left out; with two markers the card's place is rough, with four or more it is
// good.
[[nodiscard]] tl::expected<PatternView, NoPattern> FindPattern(const cv::Mat& picture,
                                                               const PatternOptions& options = {});

// Where a point of the card is by the homography of the view (no distortion).
[[nodiscard]] Eigen::Vector2d ImageOfCardPoint(const CardView& view,
                                               const Eigen::Vector2d& card_mm);

}  // namespace nearpoint
