#include "vision/camera/camera_mode.h"

#include <tuple>

namespace nearpoint {
namespace {

constexpr double kFullRate = 29.5;  // 30000/1001 counts as 30
constexpr ImageSize kLargest{1920, 1080};

// Larger is better; of two ranks the first difference decides.
std::tuple<bool, double, double, bool> Rank(const CameraMode& mode) {
  const double area = static_cast<double>(mode.size.width) * mode.size.height;
  const bool full_rate = mode.frames_per_second >= kFullRate;
  return full_rate ? std::tuple(true, area, mode.frames_per_second, mode.mjpeg)
                   : std::tuple(false, mode.frames_per_second, area, mode.mjpeg);
}

}  // namespace

std::optional<CameraMode> ChooseMode(std::span<const CameraMode> modes,
                                     std::optional<ImageSize> wanted) {
  std::optional<CameraMode> best;
  for (const CameraMode& mode : modes) {
    const bool allowed =
        wanted ? mode.size == *wanted
               : mode.size.width <= kLargest.width && mode.size.height <= kLargest.height;
    if (allowed && (!best || Rank(mode) > Rank(*best))) best = mode;
  }
  return best;
}

}  // namespace nearpoint
