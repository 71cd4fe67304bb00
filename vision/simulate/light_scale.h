// Light as numbers. Until the sensor codes it, every colour of the simulation is linear light: what
// falls together on a pixel adds up, and mixing and blurring are weighted means.
#pragma once

#include <algorithm>
#include <cmath>
#include <opencv2/core.hpp>

namespace nearpoint::simulate {

// A picture of light is CV_16UC3 (BGR), exposure gain included; kWhite is the least light that is
// coded as 255. Three times more fits before a value saturates, so that a highlight keeps its
// light until the blur has spread it.
inline constexpr int kWhite = 16384;

// The transfer curve of sRGB (IEC 61966-2-1) and its inverse; both sides 0..1.
[[nodiscard]] inline double SrgbCode(double linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}
[[nodiscard]] inline double SrgbLinear(double code) {
  return code <= 0.04045 ? code / 12.92 : std::pow((code + 0.055) / 1.055, 2.4);
}

// The paint box holds colours chosen on the display: the square root of an entry is the display
// value that its surface has under light of 1. This is the linear reflectance for it.
[[nodiscard]] inline cv::Vec3f Reflectance(const cv::Vec3f& paint) {
  cv::Vec3f out;
  for (int k = 0; k < 3; ++k) {
    out[k] = static_cast<float>(
        SrgbLinear(std::sqrt(static_cast<double>(std::clamp(paint[k], 0.0F, 1.0F)))));
  }
  return out;
}

}  // namespace nearpoint::simulate
