#include "vision/camera/jpeg_frame.h"

#include <gtest/gtest.h>

#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "tests/support/frames.h"

namespace nearpoint {
namespace {

using Bytes = std::vector<unsigned char>;

// A picture with something to compress in every block.
Bytes Encoded() {
  cv::Mat picture = NumberedPicture(9, 160, 120);
  for (int i = 0; i < 40; ++i) {
    cv::circle(picture, {(37 * i) % 160, (23 * i) % 120}, 9, cv::Scalar(6 * i, 250 - 6 * i, 90), 2);
  }
  Bytes bytes;
  cv::imencode(".jpg", picture, bytes);
  return bytes;
}

cv::Mat Decode(const Bytes& bytes) { return DecodeWholeJpeg(cv::Mat(bytes).reshape(1, 1)); }

TEST(DecodeWholeJpeg, GivesTheWholePicture) {
  const Bytes bytes = Encoded();
  const cv::Mat picture = Decode(bytes);
  ASSERT_EQ(picture.size(), cv::Size(160, 120));
  EXPECT_EQ(picture.type(), CV_8UC3);
  EXPECT_EQ(cv::norm(picture, cv::imdecode(bytes, cv::IMREAD_COLOR), cv::NORM_INF), 0);
}

TEST(DecodeWholeJpeg, ABufferMayBeLongerThanItsPicture) {
  Bytes bytes = Encoded();
  bytes.resize(bytes.size() + 5000);
  EXPECT_FALSE(Decode(bytes).empty());
}

TEST(DecodeWholeJpeg, WhereverItIsCutItIsNoPicture) {
  const Bytes whole = Encoded();
  for (std::size_t length = 1; length < whole.size(); ++length) {
    EXPECT_TRUE(
        Decode(Bytes(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(length))).empty())
        << length << " of " << whole.size() << " bytes";
  }
}

TEST(DecodeWholeJpeg, ThePictureInTheHeaderIsNotThePicture) {
  // An application segment that holds a small JPEG with an end of its own, as some cameras write.
  const Bytes small = Encoded();
  Bytes bytes = Encoded();
  const std::size_t length = small.size() + 2;
  Bytes segment{0xFF, 0xE4, static_cast<unsigned char>(length >> 8),
                static_cast<unsigned char>(length & 0xFF)};
  segment.insert(segment.end(), small.begin(), small.end());
  bytes.insert(bytes.begin() + 2, segment.begin(), segment.end());
  EXPECT_FALSE(Decode(bytes).empty());
  bytes.resize(bytes.size() - 40);
  EXPECT_TRUE(Decode(bytes).empty());
}

TEST(DecodeWholeJpeg, OtherBytesAreNoPicture) {
  EXPECT_TRUE(DecodeWholeJpeg({}).empty());
  EXPECT_TRUE(Decode(Bytes(4000, 0)).empty());
  EXPECT_TRUE(Decode({0xFF, 0xD8, 0xFF, 0xDA, 0xFF, 0xD9}).empty());
  Bytes late = Encoded();
  late.insert(late.begin(), 3, 0);
  EXPECT_TRUE(Decode(late).empty());
}

}  // namespace
}  // namespace nearpoint
