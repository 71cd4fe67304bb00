#include "vision/camera/picture_turn.h"

#include <gmock/gmock.h>

namespace nearpoint {
namespace {

constexpr std::int32_t kOne = 1 << 16;

std::array<std::int32_t, 9> Matrix(int a, int b, int c, int d) {
  return {a * kOne, b * kOne, 0, c * kOne, d * kOne, 0, 0, 0, 1 << 30};
}

// A point (p, q) of the stored picture goes to (a p + c q, b p + d q), moved into the picture.
TEST(PictureTurnTest, PutsEachPixelWhereTheMatrixSays) {
  cv::Mat stored(2, 3, CV_8UC3);
  for (int y = 0; y < 2; ++y) {
    for (int x = 0; x < 3; ++x) stored.at<cv::Vec3b>(y, x) = cv::Vec3b(10 * y + x, 0, 0);
  }
  for (const bool swapped : {false, true}) {
    for (const int one : {1, -1}) {
      for (const int two : {1, -1}) {
        const int a = swapped ? 0 : one, d = swapped ? 0 : two;
        const int c = swapped ? one : 0, b = swapped ? two : 0;
        const cv::Mat upright = Turned(stored, TurnOf(Matrix(a, b, c, d)));
        ASSERT_EQ(upright.size(), swapped ? cv::Size(2, 3) : cv::Size(3, 2));
        for (int y = 0; y < 2; ++y) {
          for (int x = 0; x < 3; ++x) {
            const int to_x = a * x + c * y + (one < 0 ? upright.cols - 1 : 0);
            const int to_y = b * x + d * y + (two < 0 ? upright.rows - 1 : 0);
            EXPECT_EQ(upright.at<cv::Vec3b>(to_y, to_x), stored.at<cv::Vec3b>(y, x))
                << a << b << c << d;
          }
        }
      }
    }
  }
}

TEST(PictureTurnTest, TakesTheNearestQuarterAndLeavesAnEmptyMatrixAlone) {
  EXPECT_EQ(TurnOf({}), PictureTurn{});
  EXPECT_EQ(TurnOf(Matrix(1, 0, 0, 1)), PictureTurn{});
  // Ten degrees beyond a quarter turn.
  const auto part = [](double share) { return static_cast<std::int32_t>(share * kOne); };
  const std::array<std::int32_t, 9> beyond{part(-0.17), part(0.98), 0, part(-0.98), part(-0.17),
                                           0,           0,          0, 1 << 30};
  EXPECT_EQ(TurnOf(beyond), TurnOf(Matrix(0, 1, -1, 0)));
}

}  // namespace
}  // namespace nearpoint
