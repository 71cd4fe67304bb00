// What a camera could see of a picture that holds no person: the whole, parts of it, flipped
// and tilted, and a slow pan.
#pragma once

#include <cstdint>
#include <opencv2/core.hpp>
#include <vector>

namespace nearpoint::bench {

// Frames of `size` (CV_8UC3), in sequences of frames that follow each other. picture: 8-bit BGR, at
// least a few pixels in each direction. Three stills of two frames each (the whole picture, and two
// parts at 1.5 to 4 times its size, flipped and tilted by chance) and one pan of six frames: twelve
// in all, each with noise of its own. The same seed gives the same frames.
[[nodiscard]] std::vector<std::vector<cv::Mat>> ViewsOf(const cv::Mat& picture, cv::Size size,
                                                        std::uint64_t seed);

// A copy with sensor noise of two steps of 8 bits.
[[nodiscard]] cv::Mat WithNoise(const cv::Mat& bgr, cv::RNG& random);

// The region is filled with what surrounds it, smoothly, so that nothing of it is left.
void CutOut(const cv::Rect& region, cv::Mat* bgr);

}  // namespace nearpoint::bench
