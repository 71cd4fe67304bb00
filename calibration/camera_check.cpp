#include "calibration/camera_check.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace nearpoint {
namespace {

constexpr double kFreeAspectSd = 0.05;
constexpr double kLargestAspectError = 0.01;
constexpr double kLargestBowMm = 0.6;
constexpr double kLargestRmsPx = 0.5;
constexpr double kLargestInflation = 5;
constexpr double kUselessFocalSd = 0.02;
constexpr std::size_t kLeastViews = 6;
constexpr std::size_t kGoodViews = 10;

std::string Number(double value, int digits) {
  char text[32];
  std::snprintf(text, sizeof text, "%.*f", digits, value);
  return text;
}

double MedianInflation(const CameraAdjustment& adjustment) {
  std::vector<double> all;
  for (const PlacedView& view : adjustment.views) all.push_back(view.inflation);
  const auto middle = all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2);
  std::nth_element(all.begin(), middle, all.end());
  return *middle;
}

double LargestBow(const CameraAdjustment& a) {
  return std::max({std::abs(a.bow_x_mm), std::abs(a.bow_y_mm), std::abs(a.twist_mm)});
}

std::string NoteOn(const PlacedView& view, double usual) {
  if (view.inflation > 3 * usual && view.inflation > 2) {
    return "fits " + Number(view.inflation / usual, 1) +
           " times worse than the others (moved, blurred or bent) and counts that much less";
  }
  if (view.set_aside > 0.05) {
    return Number(100 * view.set_aside, 0) +
           " % of its edges lie off (covered or glossy) and do not count";
  }
  return {};
}

struct Fault {
  CameraFault fault = CameraFault::kNone;
  std::string reason;
};

Fault FaultOfCard(const CameraAdjustment& free, CardKind kind) {
  const double off = free.aspect - 1;
  if (std::abs(off) > kLargestAspectError && std::abs(off) > 3 * free.aspect_sd) {
    if (kind == CardKind::kPlain) {
      return {CameraFault::kNotId1,
              "This is not a card of ID-1 size: its height is " +
                  Number(100 * free.aspect * 53.98 / 85.60, 1) +
                  " % of its width, that of an ID-1 card 63.1 %; take a bank, health or library "
                  "card."};
    }
    return {CameraFault::kUnevenPrint,
            "The pattern is printed unevenly: its height is " + Number(100 * free.aspect, 1) +
                " % of what its width demands; print the sheet at 100 % without fitting it to the "
                "page."};
  }
  if (const double bow = LargestBow(free); bow > kLargestBowMm) {
    return {CameraFault::kBent, "The card is bent by " + Number(bow, 1) +
                                    " mm; glue it onto something stiff or take a flat one."};
  }
  return {};
}

}  // namespace

Result<CameraCalibration> CalibrateCamera(const std::vector<CardView>& views, int width, int height,
                                          CardKind kind) {
  AdjustOptions options;
  options.width = width;
  options.height = height;
  options.card = kind == CardKind::kPattern ? PatternCardPrior() : PlainCardPrior();
  AdjustOptions free_options = options;
  free_options.card.aspect = kFreeAspectSd;
  free_options.card.bow_mm = 1.0;
  const auto free = AdjustCamera(views, free_options);
  if (!free) return tl::unexpected(free.error());
  auto adjusted = AdjustCamera(views, options);
  if (!adjusted) return tl::unexpected(adjusted.error());

  CameraCalibration out;
  out.adjustment = *std::move(adjusted);
  CameraIntrinsics& camera = out.adjustment.camera;
  const double own_sd = camera.focal_rel_sd;
  camera.focal_rel_sd = std::hypot(own_sd, kLensSd);
  const double usual = MedianInflation(out.adjustment);
  for (const PlacedView& view : out.adjustment.views) out.view_notes.push_back(NoteOn(view, usual));

  const double good_sd = kind == CardKind::kPattern ? 0.003 : 0.01;
  const std::string percent = Number(100 * camera.focal_rel_sd, 2) + " %";
  if (const Fault fault = FaultOfCard(*free, kind); fault.fault != CameraFault::kNone) {
    out.fault = fault.fault;
    out.reason = fault.reason;
  } else if (out.adjustment.rms_px > kLargestRmsPx && usual > kLargestInflation) {
    out.fault = CameraFault::kEdgesOff;
    out.reason = "The card's edges lie " + Number(out.adjustment.rms_px, 2) +
                 " px off any flat card; hold it still, in good light, and use a stiff card.";
  } else if (views.size() < kLeastViews) {
    out.fault = CameraFault::kFewViews;
    out.reason = "The card is usable in " + std::to_string(views.size()) +
                 " pictures; at least 6 are needed and 12 in different tilts are good.";
  } else if (camera.focal_rel_sd > kUselessFocalSd) {
    out.fault = CameraFault::kVague;
    out.reason = "The focal length is known to " + percent +
                 " only; tilt the card more, about 35 degrees to each side, and bring it nearer.";
  } else if (camera.focal_rel_sd > good_sd) {
    out.verdict = CameraVerdict::kCoarse;
    out.reason = "Usable, but the focal length is known to " + percent +
                 " only; more views with more tilt would sharpen it.";
  } else if (views.size() < kGoodViews) {
    out.verdict = CameraVerdict::kCoarse;
    out.reason = "Usable; the focal length is known to " + percent + ", from " +
                 std::to_string(views.size()) + " views where 12 are better.";
  } else {
    out.verdict = CameraVerdict::kGood;
    out.reason = "Good: the focal length is known to " + percent + ", from " +
                 std::to_string(views.size()) + " views.";
  }
  return out;
}

}  // namespace nearpoint
