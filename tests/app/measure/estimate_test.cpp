#include "app/measure/estimate.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "tests/app/measure/steps.h"

namespace nearpoint {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

constexpr double kZ = 1.959963984540054;

Trial Doubled(int number, double break_mm, double recovery_mm = NAN, double sd = 1) {
  Trial trial;
  trial.number = number;
  EventDistance at;
  at.value = {Length::Millimeters(break_mm), Length::Millimeters(sd)};
  trial.break_point = at;
  if (!std::isnan(recovery_mm)) {
    at.value.value = Length::Millimeters(recovery_mm);
    trial.recovery = at;
  }
  return trial;
}

Trial Bound(int number, double limit_mm, Censoring censoring = Censoring::kBelow) {
  Trial trial;
  trial.number = number;
  trial.censored = censoring;
  trial.limit = Length::Millimeters(limit_mm);
  return trial;
}

EstimateOptions CutOff(double mm) {
  EstimateOptions options;
  options.cut_off = Length::Millimeters(mm);
  return options;
}

double Value(const Estimate& e) { return e.break_mm.value().value.value(); }
double Width(const Band& b) { return b.high.value() - b.low; }

const std::vector<Trial> kFive = {Doubled(1, 78, 105), Doubled(2, 84, 112), Doubled(3, 75, 101),
                                  Doubled(4, 88, 115), Doubled(5, 80, 107)};

TEST(Estimate, EqualDeviationsGiveThePlainMean) {
  const Estimate e = EstimateNearPoint(kFive, {});
  EXPECT_NEAR(Value(e), 81, 1e-6);
  EXPECT_NEAR(e.recovery_mm->value.value(), 108, 1e-6);
  EXPECT_EQ(e.trials_used, 5);
  EXPECT_EQ(e.reference_plane, "corneal plane");
  ASSERT_TRUE(e.between_trial_sd_mm);
  EXPECT_GT(*e.between_trial_sd_mm, 4);  // the values scatter by 5.1, the prior says 8
  EXPECT_LT(*e.between_trial_sd_mm, 8);
}

TEST(Estimate, AnswersByTheBand) {
  EXPECT_EQ(EstimateNearPoint(kFive, {}, CutOff(60)).answer, Answer::kBeyond);
  EXPECT_EQ(EstimateNearPoint(kFive, {}, CutOff(100)).answer, Answer::kWithin);
  EXPECT_EQ(EstimateNearPoint(kFive, {}, CutOff(80)).answer, Answer::kCannotTell);
  EXPECT_NEAR(*EstimateNearPoint(kFive, {}, CutOff(81)).probability_beyond, 0.5, 1e-6);
  EXPECT_GT(*EstimateNearPoint(kFive, {}, CutOff(60)).probability_beyond, 0.999);
}

TEST(Estimate, TheAnswerAndTheProbabilityAgree) {
  for (const double cut_off : Steps(60, 105, 0.5)) {
    const Estimate e = EstimateNearPoint(kFive, {}, CutOff(cut_off));
    if (*e.probability_beyond > 0.9751) {
      EXPECT_EQ(e.answer, Answer::kBeyond) << cut_off;
    }
    if (*e.probability_beyond < 0.0249) {
      EXPECT_EQ(e.answer, Answer::kWithin) << cut_off;
    }
  }
}

TEST(Estimate, SharedCalibrationDoesNotShrinkWithTrials) {
  std::vector<Trial> many;
  for (int i = 1; i <= 400; ++i) many.push_back(Doubled(i, 80 + 3 * std::sin(i * 2.4)));
  SharedCalibration shared;
  shared.relative_sd = 0.05;
  shared.offset_sd = Length::Millimeters(3);
  const Estimate e = EstimateNearPoint(many, shared);
  EXPECT_NEAR(e.shared_sd_mm, std::hypot(0.05 * Value(e), 3), 1e-9);
  EXPECT_GT(Width(*e.break_mm), 2 * kZ * e.shared_sd_mm);
  EXPECT_LT(Width(*e.break_mm), 2.1 * kZ * e.shared_sd_mm);
}

TEST(Estimate, SharedLagCountsWithTheSpeed) {
  std::vector<Trial> trials = kFive;
  for (Trial& t : trials) t.approach_speed = Speed::MillimetersPerSecond(20);
  SharedCalibration shared;
  shared.lag_sd = FromMilliseconds(100);
  EXPECT_NEAR(EstimateNearPoint(trials, shared).shared_sd_mm, 2, 1e-9);
}

TEST(Estimate, KeepsTheLagCorrectionBeside) {
  std::vector<Trial> trials = kFive;
  EXPECT_FALSE(EstimateNearPoint(trials, {}).lag_correction_mm);
  for (Trial& t : trials)
    t.break_point->uncorrected = t.break_point->value.value - Length::Millimeters(4.8);
  EXPECT_NEAR(*EstimateNearPoint(trials, {}).lag_correction_mm, 4.8, 1e-9);
}

TEST(Estimate, FromAProfile) {
  const SharedCalibration shared = SharedFromProfile(0.003, Length::Millimeters(1), 0.004);
  EXPECT_NEAR(shared.relative_sd, 0.005, 1e-12);
  EXPECT_NEAR(shared.offset_sd.mm(), std::sqrt(2),
              1e-12);  // the target and the corneal plane, 1 mm each
}

TEST(Estimate, OrderOfTheListDoesNotMatter) {
  std::vector<Trial> turned = kFive;
  std::ranges::reverse(turned);
  const Estimate a = EstimateNearPoint(kFive, {});
  const Estimate b = EstimateNearPoint(turned, {});
  EXPECT_NEAR(Value(a), Value(b), 1e-9);
  EXPECT_NEAR(a.trend_mm_per_trial->value.value(), b.trend_mm_per_trial->value.value(), 1e-9);
}

TEST(Estimate, WhichTrialHadWhichValueDoesNotMoveTheMean) {
  std::vector<double> values = {75, 78, 80, 84, 88};
  do {
    std::vector<Trial> trials;
    for (std::size_t i = 0; i < values.size(); ++i)
      trials.push_back(Doubled(static_cast<int>(i) + 1, values[i]));
    EXPECT_NEAR(Value(EstimateNearPoint(trials, {})), 81, 1e-6);
  } while (std::next_permutation(values.begin(), values.end()));
}

TEST(Estimate, AShiftShiftsTheBand) {
  std::vector<Trial> moved;
  moved.reserve(kFive.size());
  for (const Trial& t : kFive) {
    moved.push_back(
        Doubled(t.number, t.break_point->value.value.mm() + 37, t.recovery->value.value.mm() + 37));
  }
  const Estimate a = EstimateNearPoint(kFive, {});
  const Estimate b = EstimateNearPoint(moved, {});
  EXPECT_NEAR(b.break_mm->low, a.break_mm->low + 37, 1e-6);
  EXPECT_NEAR(*b.break_mm->high, *a.break_mm->high + 37, 1e-6);
}

TEST(Estimate, ABoundBelowNeverRaisesTheValue) {
  for (const double limit : {30.0, 50.0, 70.0, 80.0, 90.0}) {
    std::vector<Trial> trials = kFive;
    double previous = Value(EstimateNearPoint(trials, {}));
    for (int extra = 0; extra < 4; ++extra) {
      // Numbered as the middle trial, so that the moment the mean speaks of stays.
      trials.push_back(Bound(3, limit));
      const double value = Value(EstimateNearPoint(trials, {}));
      EXPECT_LE(value, previous + 1e-3) << limit;
      previous = value;
    }
  }
}

TEST(Estimate, ABoundIsNotAValue) {
  std::vector<Trial> as_bound = kFive;
  as_bound.push_back(Bound(3, 50));
  std::vector<Trial> as_value = kFive;
  as_value.push_back(Doubled(3, 50));
  std::vector<Trial> high_bound = kFive;
  high_bound.push_back(Bound(3, 120));
  // A bound well above says almost nothing; one far below says at least what a value there says.
  EXPECT_NEAR(Value(EstimateNearPoint(high_bound, {})), 81, 0.2);
  EXPECT_LT(Value(EstimateNearPoint(as_bound, {})), Value(EstimateNearPoint(as_value, {})));
}

TEST(Estimate, AllToTheNoseHasABoundAndNoValue) {
  const std::vector<Trial> trials = {Bound(1, 45), Bound(2, 44), Bound(3, 46)};
  const Estimate e = EstimateNearPoint(trials, {}, CutOff(63.5));
  ASSERT_TRUE(e.break_mm);
  EXPECT_FALSE(e.break_mm->value);
  EXPECT_EQ(e.break_mm->low, 0);
  ASSERT_TRUE(e.break_mm->high);
  EXPECT_GT(*e.break_mm->high, 46);
  EXPECT_EQ(e.answer, Answer::kWithin);
  EXPECT_LT(*e.probability_beyond, 0.025);
  EXPECT_EQ(e.trials_censored_below, 3);
  EXPECT_FALSE(e.recovery_mm);
  EXPECT_EQ(EstimateNearPoint(trials, {}, CutOff(47)).answer, Answer::kCannotTell);
}

TEST(Estimate, AllDoubleFromTheStartHasALeastDistance) {
  const std::vector<Trial> trials = {Bound(1, 380, Censoring::kAbove),
                                     Bound(2, 370, Censoring::kAbove)};
  const Estimate e = EstimateNearPoint(trials, {});
  ASSERT_TRUE(e.break_mm);
  EXPECT_FALSE(e.break_mm->value);
  EXPECT_FALSE(e.break_mm->high);
  EXPECT_LT(e.break_mm->low, 370);
  EXPECT_EQ(e.answer, Answer::kBeyond);
  EXPECT_GT(*e.probability_beyond, 0.975);
}

TEST(Estimate, NoUsableTrialHasNoBand) {
  std::vector<Trial> trials = {Doubled(1, 80)};
  trials[0].set_aside = SetAside::kTooFast;
  for (const Estimate& e : {EstimateNearPoint({}, {}), EstimateNearPoint(trials, {})}) {
    EXPECT_FALSE(e.break_mm);
    EXPECT_FALSE(e.recovery_mm);
    EXPECT_FALSE(e.probability_beyond);
    EXPECT_EQ(e.answer, Answer::kCannotTell);
    EXPECT_THAT(e.cautions, Contains(HasSubstr("No trial counts")));
  }
}

TEST(Estimate, SetAsideTrialsDoNotCount) {
  std::vector<Trial> trials = kFive;
  trials.push_back(Doubled(6, 300));
  trials.back().set_aside = SetAside::kTooFast;
  const Estimate e = EstimateNearPoint(trials, {});
  EXPECT_NEAR(Value(e), 81, 1e-6);
  EXPECT_THAT(e.cautions, Contains(HasSubstr("1 trial does not count")));
}

TEST(Estimate, UnusableNumbersDoNotCount) {
  std::vector<Trial> trials = kFive;
  trials.push_back(Doubled(6, std::numeric_limits<double>::quiet_NaN()));
  trials.push_back(Doubled(7, std::numeric_limits<double>::infinity()));
  EXPECT_NEAR(Value(EstimateNearPoint(trials, {})), 81, 1e-6);
  trials[0].break_point->value.sd = Length::Millimeters(-1);
  EXPECT_TRUE(std::isfinite(EstimateNearPoint(trials, {}).break_mm->low));
}

TEST(Estimate, AnotherPlaneMovesValuesAndNotTheAnswer) {
  EstimateOptions corneal = CutOff(90);
  EstimateOptions spectacle = CutOff(90 - 13.5);
  spectacle.plane = ReferencePlane::kSpectacle;
  const Estimate a = EstimateNearPoint(kFive, {}, corneal);
  const Estimate b = EstimateNearPoint(kFive, {}, spectacle);
  EXPECT_NEAR(Value(a) - Value(b), 13.5, 1e-9);
  EXPECT_EQ(a.answer, b.answer);
  EXPECT_NEAR(*a.probability_beyond, *b.probability_beyond, 1e-12);
  EXPECT_EQ(b.reference_plane, "spectacle plane");
}

TEST(Estimate, OneTrialRestsOnThePublishedSpread) {
  const Estimate e = EstimateNearPoint(std::vector<Trial>{Doubled(1, 80)}, {});
  // At least the normal width of the prior's median spread.
  EXPECT_GT(Width(*e.break_mm), 2 * kZ * 8);
  EXPECT_FALSE(e.between_trial_sd_mm);
  EXPECT_FALSE(e.trend_mm_per_trial);
  EXPECT_THAT(e.cautions, Contains(HasSubstr("Fewer than three")));
}

TEST(Estimate, MoreTrialsNarrowTheBand) {
  std::vector<Trial> trials;
  double previous = INFINITY;
  for (int i = 1; i <= 8; ++i) {
    trials.push_back(Doubled(2 * i - 1, 76));
    trials.push_back(Doubled(2 * i, 84));
    const double width = Width(*EstimateNearPoint(trials, {}).break_mm);
    EXPECT_LT(width, previous);
    previous = width;
  }
}

TEST(Estimate, ATrendIsReportedWithItsEnds) {
  std::vector<Trial> trials;
  for (int i = 1; i <= 8; ++i) trials.push_back(Doubled(i, 60 + 5 * i + (i % 2 ? 1.5 : -1.5)));
  const Estimate e = EstimateNearPoint(trials, {});
  ASSERT_TRUE(e.trend_mm_per_trial);
  EXPECT_TRUE(e.trend_present);
  EXPECT_NEAR(*e.trend_mm_per_trial->value, 5, 0.5);
  ASSERT_TRUE(e.first_break_mm && e.last_break_mm);
  EXPECT_NEAR(*e.first_break_mm->value, 65, 3);
  EXPECT_NEAR(*e.last_break_mm->value, 100, 3);
  EXPECT_GT(Width(*e.last_break_mm), Width(*e.break_mm));
  EXPECT_THAT(e.cautions, Contains(HasSubstr("recedes")));
}

TEST(Estimate, NoiseIsNotATrend) {
  const Estimate e = EstimateNearPoint(kFive, {});
  ASSERT_TRUE(e.trend_mm_per_trial);
  EXPECT_FALSE(e.trend_present);
  EXPECT_FALSE(e.first_break_mm);
}

TEST(Estimate, RecoveryIsNotNearerThanTheBreakByChance) {
  const std::vector<Trial> trials = {Doubled(1, 80, 79), Doubled(2, 86, 82), Doubled(3, 77, 80)};
  const Estimate e = EstimateNearPoint(trials, {});
  ASSERT_TRUE(e.recovery_mm);
  EXPECT_GE(*e.recovery_mm->value, Value(e));
  EXPECT_GE(e.recovery_mm->low, e.break_mm->low);
}

TEST(Estimate, RecoveryFarNearerThanTheBreakIsSaidAndKept) {
  std::vector<Trial> trials;
  for (int i = 1; i <= 5; ++i) trials.push_back(Doubled(i, 110 + i % 2, 80 + i % 2));
  const Estimate e = EstimateNearPoint(trials, {});
  EXPECT_LT(*e.recovery_mm->value, Value(e) - 20);
  EXPECT_THAT(e.cautions, Contains(HasSubstr("exchanged")));
}

TEST(Estimate, BreakAndRecoveryAreOrderedAtEveryQuantile) {
  // The recoveries scatter less than the breaks, so that by itself their band would end first.
  const std::vector<Trial> trials = {Doubled(1, 60, 82), Doubled(2, 95, 84), Doubled(3, 78, 83),
                                     Doubled(4, 99, 83)};
  const Estimate e = EstimateNearPoint(trials, {});
  EXPECT_GE(e.recovery_mm->low, e.break_mm->low);
  EXPECT_GE(*e.recovery_mm->value, Value(e));
  EXPECT_GE(*e.recovery_mm->high, *e.break_mm->high);
  EXPECT_GE(e.recovery_minus_break_mm->low, 0);
}

TEST(Estimate, TheGapIsKnownBetterThanItsTwoEnds) {
  // 27 mm apart in every trial, wherever the trial broke.
  const Estimate e = EstimateNearPoint(kFive, {});
  ASSERT_TRUE(e.recovery_minus_break_mm);
  EXPECT_NEAR(*e.recovery_minus_break_mm->value, 27, 0.5);
  EXPECT_LT(Width(*e.recovery_minus_break_mm), 0.7 * Width(*e.break_mm));
  // A wrong zero falls out of it; a wrong scale and a wrong lag do not.
  SharedCalibration zero;
  zero.offset_sd = Length::Millimeters(10);
  EXPECT_EQ(Width(*EstimateNearPoint(kFive, zero).recovery_minus_break_mm),
            Width(*e.recovery_minus_break_mm));
  SharedCalibration scale;
  scale.relative_sd = 0.1;
  EXPECT_GT(Width(*EstimateNearPoint(kFive, scale).recovery_minus_break_mm),
            Width(*e.recovery_minus_break_mm) + 2);
  EXPECT_FALSE(EstimateNearPoint(std::vector{Doubled(1, 80)}, {}).recovery_minus_break_mm);
}

TEST(Estimate, WithBoundsTheRecoveryFollowsTheBreak) {
  // The two trials with a recovery are the two with the farther breaks.
  const std::vector<Trial> trials = {Doubled(1, 70, 95), Bound(2, 55), Doubled(3, 72, 97),
                                     Bound(4, 55)};
  const Estimate e = EstimateNearPoint(trials, {});
  ASSERT_TRUE(e.recovery_mm);
  EXPECT_NEAR(*e.recovery_mm->value - Value(e), 25, 0.1);
  EXPECT_LT(*e.recovery_mm->value, 95);
}

// The full tables: tests/bench/estimate_coverage.cpp.
TEST(Estimate, TheBandHoldsTheTruth) {
  std::mt19937_64 random(5);
  std::normal_distribution<> normal;
  std::uniform_real_distribution<> anywhere(10, 140);
  SharedCalibration shared;
  shared.offset_sd = Length::Millimeters(4);
  constexpr double kNearest = 60;
  for (const int n : {3, 5}) {
    int held_seen = 0, seen = 0, held_few = 0, few = 0;
    for (int person = 0; person < 3000; ++person) {
      const double truth = anywhere(random);
      const double spread = 8 * std::exp(0.33 * normal(random));
      const double zero = 4 * normal(random);
      std::vector<Trial> trials;
      int doubled = 0;
      for (int i = 1; i <= n; ++i) {
        const double mm = truth + spread * normal(random);
        doubled += mm >= kNearest;
        trials.push_back(mm < kNearest ? Bound(i, kNearest + zero) : Doubled(i, mm + zero, NAN, 0));
      }
      const Band band = *EstimateNearPoint(trials, shared).break_mm;
      const bool holds = truth >= band.low && truth <= *band.high;
      (doubled >= 3 ? seen : few) += 1;
      (doubled >= 3 ? held_seen : held_few) += holds;
    }
    const auto error = [](int people) { return 3 * std::sqrt(0.05 * 0.95 / people); };
    EXPECT_GT(held_seen, (0.93 - error(seen)) * seen) << n;
    EXPECT_LT(held_seen, (0.97 + error(seen)) * seen) << n;
    EXPECT_GT(held_few, (0.93 - error(few)) * few) << n;
  }
}

TEST(Words, GoThereAndBack) {
  for (const auto kind : {EventKind::kTrialStart, EventKind::kDouble, EventKind::kSingle,
                          EventKind::kNoDouble, EventKind::kTrialEnd}) {
    EXPECT_EQ(ParseEventKind(ToText(kind)), kind);
  }
  EXPECT_FALSE(ParseEventKind("blurred"));
  for (const auto plane : {ReferencePlane::kCorneal, ReferencePlane::kSpectacle,
                           ReferencePlane::kLateralCanthus, ReferencePlane::kCentreOfRotation}) {
    EXPECT_EQ(ParsePlane(ToText(plane)), plane);
  }
  EXPECT_FALSE(ParsePlane(""));
}

}  // namespace
}  // namespace nearpoint
