#include "vision/camera/jpeg_frame.h"

#include <algorithm>
#include <array>
#include <opencv2/imgcodecs.hpp>

namespace nearpoint {
namespace {

// Markers of ISO/IEC 10918-1, from memory. Within the compressed data 0xFF is always followed by 0
// or a restart marker, so the end marker cannot appear there by chance.
constexpr std::array<unsigned char, 2> kStart{0xFF, 0xD8};
constexpr std::array<unsigned char, 2> kScan{0xFF, 0xDA};
constexpr std::array<unsigned char, 2> kEnd{0xFF, 0xD9};

}  // namespace

cv::Mat DecodeWholeJpeg(const cv::Mat& bytes) {
  if (bytes.empty() || bytes.type() != CV_8UC1 || !bytes.isContinuous()) return {};
  const unsigned char* const begin = bytes.data;
  const unsigned char* const end = begin + bytes.total();
  if (!std::equal(kStart.begin(), kStart.end(), begin, std::min(begin + 2, end))) return {};
  // A small picture inside the header has an end of its own; the last scan begins after it.
  const auto* const scan = std::find_end(begin, end, kScan.begin(), kScan.end());
  if (std::search(scan, end, kEnd.begin(), kEnd.end()) == end) return {};
  try {
    return cv::imdecode(bytes, cv::IMREAD_COLOR);
  } catch (const cv::Exception&) {
    return {};
  }
}

}  // namespace nearpoint
