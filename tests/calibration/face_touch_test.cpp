#include "calibration/face_touch.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

Length Mm(double mm) { return Length::Millimeters(mm); }

// Held at 300 mm, brought in within a second, resting at `rest` with a tremble.
std::vector<TouchSample> Approach(double rest, double rest_seconds, double tremble = 0.5,
                                  double beside = 0, double sd = 1) {
  std::vector<TouchSample> samples;
  for (int i = 0; i < 30 * (3 + rest_seconds); ++i) {
    const double t = i / 30.0;
    const double part = std::clamp(t - 2, 0.0, 1.0);
    const double mm = 300 + part * (rest - 300) + tremble * std::sin(1.7 * i);
    samples.push_back({FromMilliseconds(1000 * t), Mm(mm), Mm(beside), Mm(sd)});
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

TEST(FaceTouch, ATouchIsSplitAlongTheLineOfSight) {
  // Eyes 500 mm away and a third of that aside; the target 30 mm nearer along the sight, 4 below.
  const Eigen::Vector3d mid(150, 0, 450);
  const Eigen::Vector3d target = mid - 30 * mid.normalized() + Eigen::Vector3d(0, 4, 0);
  const TouchSample sample = SampleTouch(FromMilliseconds(7), target, mid, Mm(2));
  EXPECT_NEAR(sample.before.mm(), 30, 1e-9);
  EXPECT_NEAR(sample.beside.mm(), 4, 1e-9);
}

TEST(FaceTouch, WhatIsSeenBesideTheLineNeedsNoZero) {
  const auto zero = ZeroFromTouch(Approach(20, 2, 0.5, 12), Mm(15), Mm(1));
  ASSERT_THAT(zero, IsOk());
  EXPECT_NEAR(zero->value.mm(), 5, 0.4);
  EXPECT_THAT(ZeroFromTouch(Approach(20, 2, 0.5, 40), Mm(15), Mm(1)),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("40 mm beside the eyes")));
}

TEST(FaceTouch, InTheDarkThereIsNoZero) {
  EXPECT_THAT(ZeroFromTouch(Approach(20, 2, 0.5, 12, 2.9), Mm(15), Mm(1)), IsOk());
  EXPECT_THAT(ZeroFromTouch(Approach(20, 2, 0.5, 12, 4), Mm(15), Mm(1)),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("too dark")));
}

// The tracker tells nothing of pictures that are too dark: a rest that is missing for them is not
// the person's fault, and the sentence must not say so.
TEST(FaceTouch, ARestThatWasTooDarkToSeeIsCalledDark) {
  TouchOptions options;
  const auto held_up = Approach(120, 2);
  EXPECT_THAT(ZeroFromTouch(held_up, Mm(19), Mm(3), options),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("no touch")));
  EXPECT_FALSE(TooDark(held_up, options));
  options.too_dark = 25;
  for (const auto& samples : {std::vector<TouchSample>(), Approach(23, 0), held_up}) {
    EXPECT_THAT(ZeroFromTouch(samples, Mm(19), Mm(3), options),
                FailsWith(ErrorCode::kInsufficient, AllOf(HasSubstr("too dark"), HasSubstr("25"))));
    EXPECT_TRUE(TooDark(samples, options));
  }
  // A rest that is seen all the same counts.
  EXPECT_THAT(ZeroFromTouch(Approach(23, 2), Mm(19), Mm(3), options), IsOk());
}

TEST(FaceTouch, ACardOfAnotherShapeGivesNoZero) {
  auto samples = Approach(23, 2);
  for (std::size_t i = 0; i < samples.size(); i += 3) {
    samples[i].aspect = PrintAspect{i % 2 == 0 ? 0.004 : -0.003, 0.004};
  }
  EXPECT_THAT(ZeroFromTouch(samples, Mm(19), Mm(3)), IsOk());
  for (std::size_t i = 0; i < samples.size(); i += 3) {
    samples[i].aspect = PrintAspect{-0.049, 0.004};  // as a pattern on 100 x 60 mm is
  }
  EXPECT_THAT(ZeroFromTouch(samples, Mm(19), Mm(3)),
              FailsWith(ErrorCode::kMismatch, HasSubstr("95.1 %")));
}

// The whole rest counts, not the second in which a trembling head seems nearest.
TEST(FaceTouch, ASlowTrembleAveragesOut) {
  std::vector<TouchSample> samples = Approach(20, 4, 0);
  for (TouchSample& sample : samples) {
    sample.before =
        sample.before + Mm(2 * std::sin(2 * std::numbers::pi * ToSeconds(sample.time) / 2));
  }
  const auto zero = ZeroFromTouch(samples, Mm(19), Mm(1));
  ASSERT_THAT(zero, IsOk());
  EXPECT_NEAR(zero->value.mm(), 1, 0.4);
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
