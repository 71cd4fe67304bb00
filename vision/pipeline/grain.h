// How much of a picture is noise: a camera makes a dark room bright again, and its noise with it,
// so that the brightness of the picture no longer tells that there is too little light.
#pragma once

#include <opencv2/core.hpp>

namespace nearpoint {

// One deviation of the noise over the mean light, both in 8-bit code, of a region of a grey picture
// (CV_8UC1) that lies inside it: from the second differences, in which what is smooth vanishes
// (Immerkaer, Computer Vision and Image Understanding 1996;64(2), from memory), by their median, so
// that edges hardly count. 0 for a region too small to tell.
[[nodiscard]] double GrainOf(const cv::Mat& grey, const cv::Rect& region);

// Whether the light is what is missing. On rendered faces the grain is 0.010 to 0.016 in good and
// moderate light and 0.03 to 0.05 where eyes are found wrongly or not at all; the limit is our own
// judgement. A picture that is black is too dark whatever its noise.
[[nodiscard]] bool IsTooDark(const cv::Mat& grey, const cv::Rect& region);

}  // namespace nearpoint
