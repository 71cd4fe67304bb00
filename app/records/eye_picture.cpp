#include "app/records/eye_picture.h"

#include <cstdint>

namespace nearpoint {
namespace {

constexpr std::size_t kMostBytes = 60000;
constexpr unsigned kMostWide = 320;
constexpr unsigned kMostHigh = 160;

unsigned Byte(std::string_view bytes, std::size_t at) {
  return at < bytes.size() ? static_cast<std::uint8_t>(bytes[at]) : 0;
}
unsigned Pair(std::string_view bytes, std::size_t at) {
  return Byte(bytes, at) << 8 | Byte(bytes, at + 1);
}

// A frame header other than of tables: baseline, extended or progressive (ITU-T T.81, table B.1).
bool IsFrame(unsigned marker) {
  return marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
}

}  // namespace

bool IsEyePicture(std::string_view jpeg) {
  if (jpeg.size() > kMostBytes || Pair(jpeg, 0) != 0xffd8) return false;
  // Marker, length, content, until the frame header.
  for (std::size_t at = 2; at + 4 <= jpeg.size();) {
    const unsigned marker = Byte(jpeg, at + 1);
    const unsigned length = Pair(jpeg, at + 2);
    if (Byte(jpeg, at) != 0xff || length < 2) return false;
    if (IsFrame(marker)) {
      const unsigned high = Pair(jpeg, at + 5);
      const unsigned wide = Pair(jpeg, at + 7);
      const unsigned components = Byte(jpeg, at + 9);
      return high > 0 && high <= kMostHigh && wide > 0 && wide <= kMostWide && components == 1;
    }
    at += 2 + length;
  }
  return false;
}

}  // namespace nearpoint
