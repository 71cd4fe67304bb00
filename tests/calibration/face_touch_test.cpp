#include "calibration/face_touch.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

Length Mm(double mm) { return Length::Millimeters(mm); }

// Held at 300 mm, brought in within a second, resting at `rest` with a tremble.
std::vector<TouchSample> Approach(double rest, double rest_seconds, double tremble = 0.5) {
  std::vector<TouchSample> samples;
  for (int i = 0; i < 30 * (3 + rest_seconds); ++i) {
    const double t = i / 30.0;
    const double part = std::clamp(t - 2, 0.0, 1.0);
    const double mm = 300 + part * (rest - 300) + tremble * std::sin(1.7 * i);
    samples.push_back({FromMilliseconds(1000 * t), Mm(mm), Mm(1)});
  }
  return samples;
}

TEST(FaceTouch, TheRestingReadingLessTheTouchIsTheZero) {
  const auto zero = ZeroFromTouch(Approach(23, 2), Mm(19), Mm(3));
  ASSERT_THAT(zero, IsOk());
  EXPECT_NEAR(zero->value.mm(), 4, 0.4);
  EXPECT_GE(zero->sd.mm(), 3);
  EXPECT_LT(zero->sd.mm(), 3.5);
  EXPECT_LT(ZeroFromTouch(Approach(23, 2), Mm(19), Mm(1))->sd.mm(), 1.5);
}

TEST(FaceTouch, TheZeroFollowsTheReading) {
  const auto a = ZeroFromTouch(Approach(23, 2), Mm(19), Mm(3));
  const auto b = ZeroFromTouch(Approach(30, 2), Mm(19), Mm(3));
  ASSERT_THAT(a, IsOk());
  ASSERT_THAT(b, IsOk());
  EXPECT_NEAR(b->value.mm() - a->value.mm(), 7, 0.2);
}

TEST(FaceTouch, WithoutARestThereIsNoZero) {
  EXPECT_THAT(ZeroFromTouch(Approach(23, 0), Mm(19), Mm(3)),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("keep it there")));
  EXPECT_THAT(ZeroFromTouch(Approach(23, 2, 20), Mm(19), Mm(3)),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("did not rest")));
  EXPECT_THAT(ZeroFromTouch({}, Mm(19), Mm(3)),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("0 pictures")));
}

TEST(FaceTouch, ARestBeforeTheFaceIsNoTouch) {
  EXPECT_THAT(ZeroFromTouch(Approach(120, 2), Mm(19), Mm(3)),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("before the eyes")));
}

}  // namespace
}  // namespace nearpoint
