#include "calibration/face_touch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

namespace nearpoint {
namespace {

constexpr double kFarthestRestMm = 70;  // a reading in touch beyond this is no touch
constexpr std::size_t kLeastPictures = 8;

double Median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

}  // namespace

Result<UncertainLength> ZeroFromTouch(std::span<const TouchSample> samples, Length touch,
                                      Length touch_sd, const TouchOptions& options) {
  const std::string how =
      " Hold the card up so that the camera sees the face over it, lay it on the bridge of the "
      "nose "
      "and keep it there for two seconds.";
  if (samples.size() < kLeastPictures) {
    return Fail(ErrorCode::kInsufficient, "Card and eyes are seen together in " +
                                              std::to_string(samples.size()) +
                                              " pictures, too few for a zero." + how);
  }
  // The nearest stretch at rest: the median of each window of the asked length, and its scatter.
  double best = 1e9;
  double best_scatter = 0;
  bool rested = false;
  double nearest = 1e9;
  for (std::size_t first = 0; first < samples.size(); ++first) {
    std::vector<double> window;
    std::size_t last = first;
    while (last < samples.size() && samples[last].time - samples[first].time < options.least) {
      window.push_back(samples[last++].distance.mm());
    }
    if (last == samples.size() || window.size() < kLeastPictures) break;
    const double middle = Median(window);
    nearest = std::min(nearest, middle);
    std::vector<double> off;
    off.reserve(window.size());
    for (const double v : window) off.push_back(std::abs(v - middle));
    const double scatter = 1.48 * Median(off);
    std::sort(off.begin(), off.end());
    if (off[off.size() * 9 / 10] > options.stillness.mm() || middle > best) continue;
    best = middle;
    best_scatter = scatter;
    rested = true;
  }
  if (!rested || best > nearest + options.stillness.mm()) {
    return Fail(ErrorCode::kInsufficient, "The card did not rest on the nose." + how);
  }
  if (best > kFarthestRestMm) {
    std::array<char, 120> text{};
    std::snprintf(text.data(), text.size(),
                  "The card rested %.0f mm before the eyes, which is no touch of the nose.", best);
    return Fail(ErrorCode::kInsufficient, text.data() + how);
  }
  // The head sways under the scatter; a second of it counts as two looks.
  const double resting = best_scatter / std::sqrt(2.0);
  return UncertainLength{Length::Millimeters(best) - touch,
                         Length::Millimeters(std::hypot(touch_sd.mm(), resting, 0.5))};
}

}  // namespace nearpoint
