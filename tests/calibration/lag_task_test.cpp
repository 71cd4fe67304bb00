#include "calibration/lag_task.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;

std::vector<LagPress> Presses(const std::vector<double>& reactions_ms) {
  std::vector<LagPress> presses;
  double shown = 1000;
  for (const double ms : reactions_ms) {
    LagPress press{FromMilliseconds(shown), std::nullopt};
    if (!std::isnan(ms)) press.pressed = FromMilliseconds(shown + ms);
    presses.push_back(press);
    shown += 3000;
  }
  return presses;
}

PipelineDelay None() { return {}; }

TEST(LagTaskTest, MeanAndDeviationAreThoseOfTheData) {
  // 200, 210, ..., 290: mean 245, standard deviation 10 sqrt(82.5 / 9) = 30.2765 (computed).
  const auto result =
      EvaluateLag(Presses({200, 210, 220, 230, 240, 250, 260, 270, 280, 290}), None());
  ASSERT_THAT(result, IsOk());
  EXPECT_EQ(result->counted, 10);
  EXPECT_NEAR(ToMilliseconds(result->reaction_mean), 245, 1e-6);
  EXPECT_NEAR(ToMilliseconds(result->reaction_sd), 30.2765, 1e-4);
  EXPECT_NEAR(ToMilliseconds(result->lag), 245 + kJudgementMs, 1e-6);
  EXPECT_NEAR(ToMilliseconds(result->lag_sd), std::hypot(30.2765 / std::sqrt(10.0), kJudgementSdMs),
              1e-4);
}

TEST(LagTaskTest, ReproducesThePublishedLagForAPublishedReactionTime) {
  // 231 ms, Woods et al. 2015 as measured; 0.32 s, computed from McGinnis et al. 2019.
  const auto result = EvaluateLag(Presses(std::vector<double>(10, 231)), None());
  ASSERT_THAT(result, IsOk());
  EXPECT_NEAR(ToMilliseconds(result->lag), 321, 1);
}

TEST(LagTaskTest, EveryRuleHasItsName) {
  const double missed = std::nan("");
  const auto result = EvaluateLag(
      Presses({250, 40, 260, 2000, missed, 240, 255, 245, 900, 252, 248, -300}), None());
  ASSERT_THAT(result, IsOk());
  using enum PressUse;
  EXPECT_THAT(result->uses, ElementsAre(kCounts, kTooEarly, kCounts, kTooLate, kMissed, kCounts,
                                        kCounts, kCounts, kOutlier, kCounts, kCounts, kTooEarly));
  EXPECT_EQ(result->counted, 7);
  EXPECT_NEAR(ToMilliseconds(result->reaction_mean), 250, 1e-6);
}

TEST(LagTaskTest, TheLimitsThemselvesCount) {
  // 100 and 1500 ms are allowed by the rule for early and late, and then judged as outliers.
  const auto result =
      EvaluateLag(Presses({100, 99.9, 1500, 1500.1, 300, 300, 300, 300, 300, 300, 300}), None());
  ASSERT_THAT(result, IsOk());
  EXPECT_EQ(result->uses[0], PressUse::kOutlier);
  EXPECT_EQ(result->uses[1], PressUse::kTooEarly);
  EXPECT_EQ(result->uses[2], PressUse::kOutlier);
  EXPECT_EQ(result->uses[3], PressUse::kTooLate);
}

TEST(LagTaskTest, AnEvenPersonLosesNothingToTheRule) {
  // Steps of a slow keyboard: most differences are zero, so the median deviation is too.
  const auto result =
      EvaluateLag(Presses({240, 240, 240, 240, 240, 240, 256, 240, 240, 224}), None());
  ASSERT_THAT(result, IsOk());
  EXPECT_EQ(result->counted, 10);
}

TEST(LagTaskTest, TooFewPressesSayWhatWentWrong) {
  const double missed = std::nan("");
  EXPECT_THAT(EvaluateLag(Presses({250, 40, 260, 30, missed, 240, 255, 245, 900, 252}), None()),
              FailsWith(ErrorCode::kInsufficient,
                        AllOf(HasSubstr("6 of 10"), HasSubstr("2 too early"), HasSubstr("1 missed"),
                              HasSubstr("1 far from the others"))));
  EXPECT_THAT(EvaluateLag({}, None()), FailsWith(ErrorCode::kInsufficient, HasSubstr("0 of 0")));
  auto presses = Presses({250, 250, 250});
  std::swap(presses[0], presses[2]);
  EXPECT_THAT(EvaluateLag(presses, None()), FailsWith(ErrorCode::kBadValue, HasSubstr("rise")));
}

TEST(LagTaskTest, ForeperiodsAreInRangeAndTellNothing) {
  const auto times = DrawForeperiods(4000, 11);
  double mean = 0;
  int long_ones = 0, longer = 0;
  for (const Time t : times) {
    EXPECT_GE(ToMilliseconds(t), 1500);
    EXPECT_LE(ToMilliseconds(t), 4500);
    mean += ToMilliseconds(t) / 4000;
    long_ones += t > FromMilliseconds(2000);
    longer += t > FromMilliseconds(2500);
  }
  // Having waited 0.5 s does not change what is still to come: e^-0.5 = 0.607 of those go on for
  // another 0.5 s (0.58 for the part that is cut off at 4.5 s; computed).
  EXPECT_NEAR(static_cast<double>(longer) / long_ones, 0.585, 0.03);
  EXPECT_NEAR(mean, 1500 + 842.8, 30);  // 1000 - 3000 / (e^3 - 1); computed
  EXPECT_EQ(times, DrawForeperiods(4000, 11));
  EXPECT_NE(times, DrawForeperiods(4000, 12));
}

TEST(LagTaskTest, ThePipelineIsTakenOutWithItsBounds) {
  const auto delay = BoundPipelineDelay(60, 30);
  ASSERT_THAT(delay, IsOk());
  // Computed: half of 16.67 to 3 x 16.67 + 15; 0.5 to 2.5 x 33.33.
  EXPECT_NEAR(ToMilliseconds(delay->display), (8.333 + 65) / 2, 0.01);
  EXPECT_NEAR(ToMilliseconds(delay->display_sd), (65 - 8.333) / std::sqrt(12), 0.01);
  EXPECT_NEAR(ToMilliseconds(delay->capture), (0.5 + 83.333) / 2, 0.01);
  const auto with = EvaluateLag(Presses(std::vector<double>(10, 300)), *delay);
  const auto without = EvaluateLag(Presses(std::vector<double>(10, 300)), None());
  ASSERT_THAT(with, IsOk());
  EXPECT_NEAR(ToMilliseconds(without->lag - with->lag),
              ToMilliseconds(delay->display + delay->capture), 1e-6);
  EXPECT_GT(with->lag_sd, without->lag_sd);
  EXPECT_THAT(Statement(*delay),
              AllOf(HasSubstr("37 ms"), HasSubstr("42 ms"), HasSubstr("not measured")));
  // A faster screen and camera are later by less.
  const auto fast = BoundPipelineDelay(144, 60);
  ASSERT_THAT(fast, IsOk());
  EXPECT_LT(fast->display, delay->display);
  EXPECT_LT(fast->capture_sd, delay->capture_sd);
  EXPECT_THAT(BoundPipelineDelay(0, 30), FailsWith(ErrorCode::kBadValue, HasSubstr("10")));
  EXPECT_THAT(BoundPipelineDelay(60, 1e9), FailsWith(ErrorCode::kBadValue, HasSubstr("1000")));
}

// Stamps 40 ms apart (a dim room), each picture 52 ms late and three of them held up by the
// machine.
std::vector<CaptureStamp> Stamps(int count) {
  std::vector<CaptureStamp> stamps;
  for (int i = 0; i < count; ++i) {
    const double taken = 1000 + 40.0 * i;
    const double late = i % 30 == 7 ? 140 : 52 + (i % 3 - 1) * 2;
    stamps.push_back({FromMilliseconds(taken), FromMilliseconds(taken + late)});
  }
  return stamps;
}

TEST(LagTaskTest, ACameraIsMeasuredByItsDriversStamps) {
  const auto timing = MeasureCapture(Stamps(90));
  ASSERT_THAT(timing, IsOk());
  EXPECT_NEAR(timing->frames_per_second, 25, 1e-6);
  EXPECT_NEAR(ToMilliseconds(timing->delay), 52, 1e-6);
  EXPECT_NEAR(ToMilliseconds(timing->delay_sd), 1.4826 * 2, 1e-3);
  const auto measured = BoundPipelineDelay(60, *timing);
  const auto bounded = BoundPipelineDelay(60, 25);
  ASSERT_THAT(measured, IsOk());
  EXPECT_EQ(measured->capture, timing->delay);
  EXPECT_EQ(measured->display, bounded->display);
  // Computed: a frame of 40 ms over sqrt(12), and the scatter.
  EXPECT_NEAR(ToMilliseconds(measured->capture_sd), std::hypot(11.547, 2.965), 0.01);
  EXPECT_LT(measured->capture_sd, bounded->capture_sd);
  EXPECT_THAT(Statement(*measured), AllOf(HasSubstr("52 ms"), HasSubstr("driver's stamps")));
  // It is the lag that it makes surer.
  const auto presses = Presses(std::vector<double>(10, 300));
  EXPECT_LT(EvaluateLag(presses, *measured)->lag_sd, EvaluateLag(presses, *bounded)->lag_sd);
}

TEST(LagTaskTest, StampsThatTellNothingAreRefused) {
  EXPECT_THAT(MeasureCapture(Stamps(19)), FailsWith(ErrorCode::kInsufficient, HasSubstr("19")));
  auto other_clock = Stamps(30);
  for (CaptureStamp& stamp : other_clock) stamp.taken = stamp.taken + FromMilliseconds(5e6);
  EXPECT_THAT(MeasureCapture(other_clock),
              FailsWith(ErrorCode::kUnavailable, HasSubstr("--camera-hz")));
  auto frozen = Stamps(30);
  for (CaptureStamp& stamp : frozen) stamp.taken = frozen.front().taken;
  EXPECT_THAT(MeasureCapture(std::span(frozen).first(20)),
              FailsWith(ErrorCode::kUnavailable, HasSubstr("same time")));
}

TEST(LagTaskTest, ReadsTimesAndNamesTheLineThatIsWrong) {
  const auto good = ParseLagCsv("shown_ms,pressed_ms\r\n1000,1250.5\n\n4000,\n7000,7200", "t.csv");
  ASSERT_THAT(good, IsOk());
  ASSERT_EQ(good->size(), 3u);
  EXPECT_EQ(*(*good)[0].pressed - (*good)[0].shown, FromMilliseconds(250.5));
  EXPECT_FALSE((*good)[1].pressed.has_value());
  EXPECT_THAT(ParseLagCsv("", "t.csv"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("t.csv is empty")));
  EXPECT_THAT(ParseLagCsv("1000,1250\n", "t.csv"),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("line 1"), HasSubstr("shown_ms"))));
  for (const char* bad : {"x,1", "1000", "1000,1 s", "1000,nan", ",1000", "1e300,5"}) {
    EXPECT_THAT(ParseLagCsv(std::string("shown_ms,pressed_ms\n") + bad, "t.csv"),
                FailsWith(ErrorCode::kBadValue, HasSubstr("line 2")))
        << bad;
  }
}

}  // namespace
}  // namespace nearpoint
