// One picture of a camera that compresses: JPEG bytes as they came over the cable.
#pragma once

#include <opencv2/core.hpp>

namespace nearpoint {

// The picture, 8-bit BGR; empty where it is not whole. The decoder alone would not say so: it fills
// what is missing of a picture that was cut off with grey, and a measurement would take that for a
// face. Whole means: begins as a JPEG does, has its end marker, and decodes. bytes: one row of
// bytes, padding after the end allowed.
[[nodiscard]] cv::Mat DecodeWholeJpeg(const cv::Mat& bytes);

}  // namespace nearpoint
