// Which of the modes a camera offers is the one to measure with.
#pragma once

#include <optional>
#include <span>

namespace nearpoint {

struct ImageSize {
  int width = 0;
  int height = 0;
  friend bool operator==(const ImageSize&, const ImageSize&) = default;
};

struct CameraMode {
  ImageSize size;
  double frames_per_second = 0;
  bool mjpeg = false;  // compressed in the camera; otherwise plain pixels
};

// wanted: this size and no other, at the highest rate (a profile belongs to one image size);
// nullopt if the camera does not have it. Otherwise the largest picture that still comes 30 times a
// second, at most 1920x1080: beyond that decoding one camera fills a processor. If nothing comes so
// often, the fastest mode, and of those the largest. Of equal modes MJPEG is taken. nullopt for no
// modes.
[[nodiscard]] std::optional<CameraMode> ChooseMode(std::span<const CameraMode> modes,
                                                   std::optional<ImageSize> wanted);

}  // namespace nearpoint
