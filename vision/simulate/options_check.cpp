#include "vision/simulate/options_check.h"

#include <cmath>
#include <sstream>
#include <vector>

namespace nearpoint::simulate {
namespace {

struct Range {
  const char* name;
  double value, low, high;
};

}  // namespace

Result<void> CheckOptions(const PatientOptions& options) {
  const Appearance& a = options.appearance;
  const Light& l = options.light;
  const Optics& o = options.optics;
  const CameraIntrinsics& c = o.camera;
  const Behaviour& b = options.behaviour;
  const double width = c.width;
  const double height = c.height;
  std::vector<Range> ranges{
      {"appearance.head_scale", a.head_scale, 0.7, 1.3},
      {"appearance.distance_pd (mm)", a.distance_pd.mm(), 40, 80},
      {"appearance.iris (mm)", a.iris.mm(), 9, 14},
      {"appearance.skin_tone", a.skin_tone, 0, 1},
      {"appearance.iris_tone", a.iris_tone, 0, 1},
      {"light.level", l.level, 0, 2},
      {"light.side", l.side, -1, 1},
      {"light.noise_sd", l.noise_sd, 0, 50},
      {"optics.aperture (mm)", o.aperture.mm(), 0, 10},
      {"optics.focus (mm)", o.focus.mm(), 10, 1e9},
      {"optics.exposure_fraction", o.exposure_fraction, 0, 1},
      {"optics.camera.width", width, 64, 4096},
      {"optics.camera.height", height, 48, 4096},
      {"optics.camera.fx", c.fx, 0.1 * width, 20 * width},
      {"optics.camera.fy", c.fy, 0.1 * width, 20 * width},
      {"optics.camera.cx", c.cx, 0, width},
      {"optics.camera.cy", c.cy, 0, height},
      {"behaviour.trials", static_cast<double>(b.trials), 1, 100},
      {"behaviour.start (mm)", b.start.mm(), 60, 2000},
      {"behaviour.nearest (mm)", b.nearest.mm(), 30, b.start.mm() - 10},
      {"behaviour.approach (mm/s)", b.approach.mm_per_s(), 1, 500},
      {"behaviour.withdrawal (mm/s)", b.withdrawal.mm_per_s(), 1, 500},
      {"behaviour.break_mean (mm)", b.break_mean.mm(), 1, 5000},
      {"behaviour.recovery_mean (mm)", b.recovery_mean.mm(), 1, 5000},
      {"behaviour.between_trial_sd (mm)", b.between_trial_sd.mm(), 0, 200},
      {"behaviour.recession_per_trial (mm)", b.recession_per_trial.mm(), -100, 100},
      {"behaviour.drift (degrees)", b.drift.deg(), 0, 40},
      {"behaviour.lag (ms)", ToMilliseconds(b.lag), 0, 5000},
      {"behaviour.lag_sd (ms)", ToMilliseconds(b.lag_sd), 0, 2000},
      {"behaviour.blinks_per_minute", b.blinks_per_minute, 0, 60},
      {"behaviour.sway", b.sway, 0, 3},
      {"behaviour.frames_per_second", b.frames_per_second, 1, 240},
      {"behaviour.hold (s)", ToSeconds(b.hold), 0, 600},
      {"behaviour.turn (degrees)", b.turn.deg(), 0, 40},
      {"behaviour.turn_period (s)", ToSeconds(b.turn_period), 0.2, 600},
      {"target_mm x", options.target_mm.x(), -300, 300},
      {"target_mm y", options.target_mm.y(), -300, 300},
      {"target_mm z", options.target_mm.z(), -300, 600},
      {"distortion k1", c.distortion[0], -2, 2},
      {"distortion k2", c.distortion[1], -5, 5},
      {"distortion p1", c.distortion[2], -0.1, 0.1},
      {"distortion p2", c.distortion[3], -0.1, 0.1},
      {"distortion k3", c.distortion[4], -10, 10},
      // The eyes must lie between the corners of the lids.
      {"appearance.distance_pd for this head_scale (mm)", a.distance_pd.mm(), 47 * a.head_scale,
       73 * a.head_scale},
  };
  if (a.spectacles) {
    const Spectacles& s = *a.spectacles;
    const std::vector<Range> of_glasses{
        {"spectacles.left.sphere (dioptres)", s.left.sphere, -20, 12},
        {"spectacles.left.cylinder (dioptres)", s.left.cylinder, -8, 8},
        {"spectacles.left.base_out (prism dioptres)", s.left.base_out, -15, 15},
        {"spectacles.right.sphere (dioptres)", s.right.sphere, -20, 12},
        {"spectacles.right.cylinder (dioptres)", s.right.cylinder, -8, 8},
        {"spectacles.right.base_out (prism dioptres)", s.right.base_out, -15, 15},
        {"spectacles.addition (dioptres)", s.addition, 0, 4},
        {"spectacles.vertex (mm)", s.vertex.mm(), 6, 25},
        {"spectacles.outward (mm)", s.outward.mm(), -6, 6},
        {"spectacles.upward (mm)", s.upward.mm(), -10, 10},
        {"spectacles.tilt (degrees)", s.tilt.deg(), -20, 20},
        {"spectacles.half_width (mm)", s.half_width.mm(), 15, 40},
        {"spectacles.half_height (mm)", s.half_height.mm(), 10, 40},
        {"spectacles.rim (mm)", s.rim.mm(), 0, 8},
        {"spectacles.mirrors", s.mirrors, 0, 0.2},
    };
    ranges.insert(ranges.end(), of_glasses.begin(), of_glasses.end());
  }
  if (options.card) {
    const CardProp& card = *options.card;
    if (card.picture.empty() || card.picture.type() != CV_8UC1) {
      return Fail(ErrorCode::kBadValue,
                  "patient option card.picture is not a grey 8-bit picture; it is what the card's "
                  "side toward the lens shows");
    }
    const std::vector<Range> of_card{
        {"card.width (mm)", card.width.mm(), 20, 200},
        {"card.height (mm)", card.height.mm(), 20, 200},
        {"card.thickness (mm)", card.thickness.mm(), 0, 5},
        {"card.corner_radius (mm)", card.corner_radius.mm(), 0, 10},
        {"card.turned (degrees)", card.turned.deg(), -60, 60},
        {"card.tipped (degrees)", card.tipped.deg(), -60, 60},
        {"card.rolled (degrees)", card.rolled.deg(), -180, 180},
        {"card.gap (mm)", card.gap.mm(), 0, 200},
        {"card.bend (mm)", card.bend.mm(), -15, 15},
        {"card.fingers (mm)", card.fingers.mm(), -30, 60},
        {"card.glare (mm)", card.glare.mm(), 0, 50},
        {"card.face_distance (mm)", card.face_distance.mm(), 200, 1500},
        {"card.below (mm)", card.below.mm(), 0, 60},
    };
    ranges.insert(ranges.end(), of_card.begin(), of_card.end());
  }
  for (const Range& range : ranges) {
    if (range.value >= range.low && range.value <= range.high) continue;
    std::ostringstream text;
    text << "patient option " << range.name << " is " << range.value << "; it must be from "
         << range.low << " to " << range.high;
    return Fail(ErrorCode::kBadValue, text.str());
  }
  return {};
}

}  // namespace nearpoint::simulate
