#include "calibration/pipeline_delay.h"

#include <cmath>
#include <cstdio>
#include <vector>

#include "calibration/upper_median.h"

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

Result<CaptureTiming> MeasureCapture(std::span<const CaptureStamp> stamps) {
  constexpr std::size_t kLeast = 20;
  constexpr double kLongestMs = 1000;
  if (stamps.size() < kLeast) {
    return Fail(ErrorCode::kInsufficient, "The camera gave " + std::to_string(stamps.size()) +
                                              " pictures, too few to tell how late they are.");
  }
  std::vector<double> delays;
  std::vector<double> between;
  for (std::size_t i = 0; i < stamps.size(); ++i) {
    delays.push_back(ToMilliseconds(stamps[i].arrived - stamps[i].taken));
    if (i > 0) between.push_back(ToMilliseconds(stamps[i].taken - stamps[i - 1].taken));
    if (delays.back() < 0 || delays.back() > kLongestMs) {
      return Fail(ErrorCode::kUnavailable,
                  "The camera's driver does not say on this clock when a picture was taken; leave "
                  "--camera away and give its rate with --camera-hz.");
    }
  }
  const double delay = UpperMedian(delays);
  for (double& ms : delays) ms = std::abs(ms - delay);
  const double frame = UpperMedian(between);
  if (!(frame > 0)) {
    return Fail(ErrorCode::kUnavailable, "The camera's driver gives all pictures the same time.");
  }
  return CaptureTiming{1000 / frame, FromMilliseconds(delay),
                       FromMilliseconds(1.4826 * UpperMedian(delays))};
}

Result<PipelineDelay> BoundPipelineDelay(double refreshes_per_second, const CaptureTiming& camera) {
  auto delay = BoundPipelineDelay(refreshes_per_second, camera.frames_per_second);
  if (!delay) return delay;
  const double frame_ms = 1000 / camera.frames_per_second;
  delay->capture = camera.delay;
  delay->capture_sd =
      FromMilliseconds(std::hypot(frame_ms / std::sqrt(12.0), ToMilliseconds(camera.delay_sd)));
  delay->capture_measured = true;
  return delay;
}

std::string Statement(const PipelineDelay& delay) {
  char text[256];
  std::snprintf(text, sizeof text,
                "The screen is taken to be %.0f ms late (deviation %.0f) and the camera %.0f ms "
                "(deviation %.0f): %s.",
                ToMilliseconds(delay.display), ToMilliseconds(delay.display_sd),
                ToMilliseconds(delay.capture), ToMilliseconds(delay.capture_sd),
                delay.capture_measured
                    ? "the camera by its driver's stamps, the screen bounded from its rate, not "
                      "measured"
                    : "bounded from their rates, not measured");
  return text;
}

std::string StatementInShort(const PipelineDelay& delay) {
  char text[120];
  std::snprintf(text, sizeof text, "screen %.0f ms (%.0f) bounded, camera %.0f ms (%.0f) %s",
                ToMilliseconds(delay.display), ToMilliseconds(delay.display_sd),
                ToMilliseconds(delay.capture), ToMilliseconds(delay.capture_sd),
                delay.capture_measured ? "measured" : "bounded");
  return text;
}

}  // namespace nearpoint
