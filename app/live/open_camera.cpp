#include "app/live/open_camera.h"

#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "calibration/profile_json.h"
#include "vision/camera/open_source.h"

namespace nearpoint {
namespace {
constexpr double kDiagonalFieldDeg = 70;
// Half of what lies between the focal lengths of 60 and 78 degrees, over that of 70: 0.17; taken as
// two deviations and a little less.
constexpr double kFocalRelSd = 0.07;
}  // namespace

CameraIntrinsics OrdinaryWebcam(int width, int height) {
  CameraIntrinsics camera;
  camera.width = width;
  camera.height = height;
  const double half_diagonal = std::hypot(width, height) / 2;
  camera.fx = half_diagonal / std::tan(kDiagonalFieldDeg / 2 * std::numbers::pi / 180);
  camera.fy = camera.fx;
  camera.cx = (width - 1) / 2.0;
  camera.cy = (height - 1) / 2.0;
  camera.focal_rel_sd = kFocalRelSd;
  return camera;
}

OpenLiveSource OpenCamera(std::string spec, Profile known, bool calibrated,
                          const TrackerOptions& tracker) {
  return [spec = std::move(spec), known = std::move(known), calibrated,
          tracker]() -> Result<LiveSource> {
    std::optional<ImageSize> wanted;
    if (calibrated) wanted = ImageSize{known.camera.width, known.camera.height};
    auto frames = OpenSource(spec, wanted);
    if (!frames) return tl::unexpected(frames.error());
    LiveSource source;
    source.profile = known;
    source.tracker = tracker;
    const SourceInfo& info = (*frames)->info();
    if (!calibrated) source.profile.camera = OrdinaryWebcam(info.width, info.height);
    if (auto fits = CheckImageSize(source.profile, info.width, info.height); !fits) {
      return tl::unexpected(fits.error());
    }
    source.frames = *std::move(frames);
    return source;
  };
}

}  // namespace nearpoint
