// From an ideal picture to what a webcam delivers: motion and defocus blur, exposure control,
// noise.
#pragma once

#include <array>
#include <cstdint>
#include <opencv2/core.hpp>

#include "vision/simulate/patient.h"
#include "vision/simulate/performance.h"

namespace nearpoint::simulate {

// Diameter in pixels of the blur circle of a point at `distance`: a thin lens of fixed focus.
[[nodiscard]] double BlurCirclePx(const Optics& optics, Length distance);

// Blurs as a lens: a disc of the given diameter together with the softness of any webcam, 0.6 px.
void BlurLikeLens(double circle_px, cv::Mat& bgr);

// Smears a picture of the middle of the exposure by the head's motion between its two ends.
void BlurByMotion(const CameraIntrinsics& camera, const PatientState& opening,
                  const PatientState& middle, const PatientState& closing, cv::Mat& bgr);

// Exposure control of a webcam: brings the mean of the picture's middle to a fixed value within
// about a third of a second.
class ExposureControl {
 public:
  [[nodiscard]] double gain() const { return gain_; }
  void Settle(const cv::Mat& bgr) { Follow(bgr, 1e9); }  // at once
  void Follow(const cv::Mat& bgr, double elapsed_s);

 private:
  double gain_ = 1;
};

class SensorNoise {
 public:
  SensorNoise(int width, std::uint64_t seed);
  // Standard deviation of the noise at a gain, 8-bit steps. The picture is square-root coded, which
  // makes photon noise the same at every brightness.
  [[nodiscard]] static double Deviation(const Light& light, double gain);
  void Add(double deviation, std::int64_t frame, cv::Mat& bgr) const;

 private:
  std::uint64_t seed_;
  cv::Mat tile_;  // CV_16S, unit variance is 64
};

}  // namespace nearpoint::simulate
