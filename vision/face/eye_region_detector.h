// Eyes in pictures that hold no whole face: in the last centimetres before the camera only brows,
// eyes and the bridge of the nose are in view, soft from defocus. A histogram-of-gradients window
// (Dalal and Triggs, CVPR 2005, with the cells of Felzenszwalb et al., PAMI 2010) is learned from
// the simulated patient; see models/README.md.
#pragma once

#include <Eigen/Core>
#include <memory>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "vision/core/result.h"

namespace nearpoint {

// The window around the lid opening: this many iris diameters wide.
inline constexpr double kEyeRegionInIrises = 3.3;
// Iris diameters that are looked for, as fractions of the picture's width: 66 to 250 pixels of
// 1280.
inline constexpr double kSmallestIrisInWidths = 66.0 / 1280;
inline constexpr double kLargestIrisInWidths = 250.0 / 1280;

struct EyeRegion {
  // Half way between the corners of the lids, in pixels of the picture as captured; may lie up to
  // half an opening outside it.
  Eigen::Vector2d centre_px;
  double iris_diameter_px = 0;  // from the size of the window: within about 15 %
  double confidence = 0;        // 0 .. 1; 0.5 at the boundary that was learned
};

class EyeRegionDetector {
 public:
  // Errors: kNotFound, kUnreadable, kBadValue when the file holds another kind of detector.
  [[nodiscard]] static Result<EyeRegionDetector> Load(const std::string& file);

  EyeRegionDetector(EyeRegionDetector&&) noexcept;
  EyeRegionDetector& operator=(EyeRegionDetector&&) noexcept;
  ~EyeRegionDetector();

  // Both eyes of one head in a grey 8-bit picture, the more certain first; one eye if no second
  // fits it in place and size; empty if there is none. May be called from several threads at once.
  [[nodiscard]] std::vector<EyeRegion> Detect(const cv::Mat& grey) const;

 private:
  struct Impl;
  explicit EyeRegionDetector(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace nearpoint
