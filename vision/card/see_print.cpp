#include "vision/card/see_print.h"

#include "calibration/print_check.h"

namespace nearpoint {
namespace {

constexpr int kLeastMarkers = 6;  // of 15: the card is measured in the plane that they span

}  // namespace

PrintSeen SeePrint(const cv::Mat& picture, const CameraIntrinsics& camera) {
  PrintSeen out;
  PatternOptions options;
  options.least_markers = kLeastMarkers;
  const auto pattern = FindPattern(picture, options);
  if (!pattern) {
    out.no_pattern = pattern.error();
    out.why = ToText(pattern.error());
    return out;
  }
  const auto card = FindPlainCard(picture, BesidePattern(pattern->edges));
  if (!card) {
    out.no_card = card.error();
    out.why = "beside the pattern, " + std::string(ToText(card.error()));
    return out;
  }
  out.card_px = card->corners_px;
  const auto scale = MeasurePrint(pattern->edges, card->edges, camera);
  if (scale) {
    out.scale = *scale;
  } else {
    out.why = scale.error().message;
    out.why.pop_back();
  }
  return out;
}

}  // namespace nearpoint
