// Writing a pixel of three 16-bit values from a vector register.
#pragma once

#include <algorithm>
#include <opencv2/core.hpp>
#include <opencv2/core/hal/intrin.hpp>

namespace nearpoint::simulate {

// The first three values to a pixel. When pixels are written from left to right the next one may
// be overwritten, which is faster.
inline void StoreThree(const cv::v_uint16x8& values, bool may_spill, cv::Vec3w& pixel) {
  if (may_spill) {
    cv::v_store_low(pixel.val, values);
    return;
  }
  ushort all[8];
  cv::v_store(all, values);
  std::copy_n(all, 3, pixel.val);
}

}  // namespace nearpoint::simulate
