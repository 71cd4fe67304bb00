// From the light of an ideal lens to what a webcam delivers: motion and defocus blur, exposure
// control, coding and noise. `light` is a picture of linear light as in light_scale.h.
#pragma once

#include <array>
#include <cstdint>
#include <opencv2/core.hpp>

#include "vision/simulate/patient.h"
#include "vision/simulate/performance.h"

namespace nearpoint::simulate {

// Diameter in pixels of the blur circle of a point at `distance`: a thin lens of fixed focus.
[[nodiscard]] double BlurCirclePx(const Optics& optics, Length distance);

// Blurs as a lens: a disc of the given diameter together with the softness of any webcam, a
// Gaussian of 0.6 px, and an even smear of the given half length in no special direction. The line
// spread along rows and columns is that of the disc; the two directions are blurred one after the
// other.
void BlurLikeLens(double circle_px, cv::Mat& light, double smear_px = 0);

// Smears a picture of the middle of the exposure by the head's motion between its two ends. Where
// no point moves by more than a pixel to either side nothing is done and the largest of these
// motions is returned, for BlurLikeLens; else 0.
[[nodiscard]] double BlurByMotion(const CameraIntrinsics& camera, const PatientState& opening,
                                  const PatientState& middle, const PatientState& closing,
                                  cv::Mat& light);

// Exposure control of a webcam: brings the mean code of the picture's middle to a fixed value
// within about a third of a second. The gain it gives multiplies the light.
class ExposureControl {
 public:
  [[nodiscard]] double gain() const { return gain_; }
  void Settle(const cv::Mat& light) { Follow(light, 1e9); }  // at once
  void Follow(const cv::Mat& light, double elapsed_s);

 private:
  double gain_ = 1;
};

class Sensor {
 public:
  Sensor(int width, std::uint64_t seed);
  // Standard deviation of the noise at a gain, 8-bit steps.
  [[nodiscard]] static double NoiseDeviation(const Light& light, double gain);
  // The picture as delivered, 8-bit BGR: the light, coded as sRGB and clipped at white, plus noise,
  // rounded. Noise is added to the code, whose curve is near a square root: there photon noise is
  // about the same at every brightness.
  [[nodiscard]] cv::Mat Read(const cv::Mat& light, double noise_deviation,
                             std::int64_t frame) const;

 private:
  std::uint64_t seed_;
  cv::Mat noise_;  // CV_16S, unit variance is 4096
};

}  // namespace nearpoint::simulate
