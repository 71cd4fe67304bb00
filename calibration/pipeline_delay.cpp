#include "calibration/pipeline_delay.h"

#include <cmath>
#include <cstdio>

namespace nearpoint {
namespace {

bool Usable(double rate) { return rate >= 10 && rate <= 1000; }

}  // namespace

Result<PipelineDelay> BoundPipelineDelay(double refreshes_per_second, double frames_per_second) {
  if (!Usable(refreshes_per_second) || !Usable(frames_per_second)) {
    return Fail(ErrorCode::kBadValue,
                "The rates of screen and camera must be between 10 and 1000 a second.");
  }
  const double refresh_ms = 1000 / refreshes_per_second, frame_ms = 1000 / frames_per_second;
  constexpr double kPanelMs = 15;
  constexpr double kShortestExposureMs = 1;
  const double display_low = 0.5 * refresh_ms, display_high = 3 * refresh_ms + kPanelMs;
  const double capture_low = 0.5 * kShortestExposureMs;
  const double capture_high = 0.5 * frame_ms + frame_ms + frame_ms;
  const auto middle = [](double low, double high) { return FromMilliseconds((low + high) / 2); };
  const auto spread = [](double low, double high) {
    return FromMilliseconds((high - low) / std::sqrt(12.0));
  };
  return PipelineDelay{middle(display_low, display_high), spread(display_low, display_high),
                       middle(capture_low, capture_high), spread(capture_low, capture_high)};
}

std::string Statement(const PipelineDelay& delay) {
  char text[256];
  std::snprintf(text, sizeof text,
                "The screen is taken to be %.0f ms late (deviation %.0f) and the camera %.0f ms "
                "(deviation %.0f): bounded from their rates, not measured.",
                ToMilliseconds(delay.display), ToMilliseconds(delay.display_sd),
                ToMilliseconds(delay.capture), ToMilliseconds(delay.capture_sd));
  return text;
}

}  // namespace nearpoint
