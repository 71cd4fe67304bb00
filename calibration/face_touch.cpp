#include "calibration/face_touch.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <utility>
#include <vector>

#include "calibration/upper_median.h"

namespace nearpoint {
namespace {

constexpr double kFarthestRestMm = 70;  // a reading in touch beyond this is no touch
constexpr std::size_t kLeastPictures = 8;
constexpr double kFarthestBesideMm = 25;  // of the letter from the middle of the eyes, across

// What a share of the values is off their median at most.
double OffMedian(const std::vector<double>& values, double share) {
  const double middle = UpperMedian(values);
  std::vector<double> off;
  off.reserve(values.size());
  for (const double v : values) off.push_back(std::abs(v - middle));
  std::sort(off.begin(), off.end());
  return off[static_cast<std::size_t>(static_cast<double>(off.size() - 1) * share)];
}

// Of a head that is placed poorly a rest cannot be told from a movement.
double Placed(std::span<const TouchSample> samples) {
  std::vector<double> sds;
  sds.reserve(samples.size());
  for (const TouchSample& sample : samples) sds.push_back(sample.sd.mm());
  return sds.empty() ? 0 : UpperMedian(std::move(sds));
}

}  // namespace

bool TooDark(std::span<const TouchSample> samples, const TouchOptions& options) {
  return options.too_dark >= kLeastPictures || Placed(samples) > kPoorestHead.mm();
}

TouchSample SampleTouch(Time time, const Eigen::Vector3d& target_mm,
                        const Eigen::Vector3d& eye_mid_mm, Length sd) {
  const Eigen::Vector3d sight = eye_mid_mm.normalized();
  const Eigen::Vector3d line = eye_mid_mm - target_mm;
  const double before = line.dot(sight);
  return {time, Length::Millimeters(before), Length::Millimeters((line - before * sight).norm()),
          sd};
}

Result<UncertainLength> ZeroFromTouch(std::span<const TouchSample> samples, Length touch,
                                      Length touch_sd, const TouchOptions& options) {
  const std::string how =
      " Hold the card up so that the camera sees the face over it, lay it on the bridge of the "
      "nose "
      "and keep it there for two seconds.";
  const std::string dark = "It is too dark: in " + std::to_string(options.too_dark) +
                           " pictures the eyes are seen too poorly to place the head to " +
                           std::to_string(static_cast<int>(kPoorestHead.mm())) +
                           " mm; put more light on the face, from the front, and repeat.";
  const bool too_dark = options.too_dark >= kLeastPictures;
  if (samples.size() < kLeastPictures) {
    if (too_dark) return Fail(ErrorCode::kInsufficient, dark);
    return Fail(ErrorCode::kInsufficient, "Card and eyes are seen together in " +
                                              std::to_string(samples.size()) +
                                              " pictures, too few for a zero." + how);
  }
  std::vector<PrintAspect> aspects;
  for (const TouchSample& sample : samples) {
    if (sample.aspect) aspects.push_back(*sample.aspect);
  }
  if (const auto aspect = MeanAspect(aspects)) {
    if (auto shape = CheckAspect(*aspect); !shape) return tl::unexpected(shape.error());
  }
  const double placed = Placed(samples);
  if (placed > kPoorestHead.mm()) {
    std::array<char, 200> text{};
    std::snprintf(
        text.data(), text.size(),
        "It is too dark: the pictures place the head to %.1f mm only, and %.0f are needed; "
        "put more light on the face, from the front, and repeat.",
        placed, kPoorestHead.mm());
    return Fail(ErrorCode::kInsufficient, text.data());
  }
  // The nearest stretch at rest: the median of each window of the asked length.
  double best = 1e9;
  std::size_t begins = 0;
  bool rested = false;
  double nearest = 1e9;
  for (std::size_t first = 0; first < samples.size(); ++first) {
    std::vector<double> window;
    std::size_t last = first;
    while (last < samples.size() && samples[last].time - samples[first].time < options.least) {
      window.push_back(samples[last++].before.mm());
    }
    if (last == samples.size() || window.size() < kLeastPictures) break;
    const double middle = UpperMedian(window);
    nearest = std::min(nearest, middle);
    if (OffMedian(window, 0.9) > options.stillness.mm() || middle > best) continue;
    best = middle;
    begins = first;
    rested = true;
  }
  if (!rested || best > nearest + options.stillness.mm()) {
    if (too_dark) return Fail(ErrorCode::kInsufficient, dark);
    return Fail(ErrorCode::kInsufficient, "The card did not rest on the nose." + how);
  }
  if (best > kFarthestRestMm) {
    if (too_dark) return Fail(ErrorCode::kInsufficient, dark);
    std::array<char, 120> text{};
    std::snprintf(text.data(), text.size(),
                  "The card rested %.0f mm before the eyes, which is no touch of the nose.", best);
    return Fail(ErrorCode::kInsufficient, text.data() + how);
  }
  // All of the rest: its nearest second alone would take the tremble of that second for the touch.
  const auto resting_at = [&](std::size_t i) {
    return std::abs(samples[i].before.mm() - best) <= options.stillness.mm();
  };
  std::size_t first = begins;
  while (first > 0 && resting_at(first - 1)) --first;
  std::vector<double> before;
  std::vector<double> across_mm;
  for (std::size_t i = first;
       i < samples.size() &&
       (resting_at(i) || samples[i].time - samples[begins].time < options.least);
       ++i) {
    before.push_back(samples[i].before.mm());
    across_mm.push_back(samples[i].beside.mm());
  }
  const double beside = UpperMedian(across_mm);
  if (beside > kFarthestBesideMm) {
    std::array<char, 140> text{};
    std::snprintf(text.data(), text.size(),
                  "The letter of the card rested %.0f mm beside the eyes, which is not on the "
                  "bridge of the nose.",
                  beside);
    return Fail(ErrorCode::kInsufficient, text.data() + how);
  }
  // The head sways under the scatter; a second of it counts as two looks. What places it wrong
  // stays longer than a touch.
  const double seconds = ToSeconds(samples[first + before.size() - 1].time - samples[first].time);
  const double resting = 1.48 * OffMedian(before, 0.5) / std::sqrt(2 * std::max(1.0, seconds));
  return UncertainLength{Length::Millimeters(UpperMedian(before)) - touch,
                         Length::Millimeters(std::hypot(touch_sd.mm(), resting, placed))};
}

}  // namespace nearpoint
