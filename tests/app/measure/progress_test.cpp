#include "app/measure/progress.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

#include "app/measure/max_likelihood.h"
#include "app/measure/student_t.h"

namespace nearpoint {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

constexpr double kZ = 1.959963984540054;

SessionPoint Point(double day, const std::vector<double>& breaks,
                   std::optional<double> hour = std::nullopt,
                   const SharedCalibration& shared = {}) {
  std::vector<Trial> trials;
  for (const double mm : breaks) {
    Trial trial;
    trial.number = static_cast<int>(trials.size()) + 1;
    trial.break_point.emplace().value.value = Length::Millimeters(mm);
    trials.push_back(trial);
  }
  return *MakeSessionPoint(trials, shared, day, hour);
}

SessionPoint Nose(double day, double limit) {
  std::vector<Trial> trials(3);
  for (Trial& trial : trials) {
    trial.censored = Censoring::kBelow;
    trial.limit = Length::Millimeters(limit);
  }
  return *MakeSessionPoint(trials, {}, day, std::nullopt);
}

double Width(const Band& band) { return *band.high - band.low; }

// Seven sessions a week apart, 10 mm nearer each week.
std::vector<SessionPoint> Improving(std::optional<double> hour = std::nullopt) {
  std::vector<SessionPoint> sessions;
  for (int week = 0; week < 7; ++week) {
    const double mm = 130 - 10 * week + (week % 2 ? 2 : -2);
    sessions.push_back(Point(7 * week, {mm - 3, mm, mm + 3}, hour));
  }
  return sessions;
}

TEST(Progress, FindsTheSlope) {
  const Progress p = EstimateProgress(Improving());
  ASSERT_TRUE(p.slope_mm_per_week);
  EXPECT_NEAR(*p.slope_mm_per_week->value, -10, 0.5);
  EXPECT_LT(*p.slope_mm_per_week->high, -7);
  EXPECT_EQ(p.course, Course::kNearer);
  EXPECT_NEAR(p.weeks, 6, 1e-12);
  EXPECT_NEAR(*p.change_mm->value, 6 * *p.slope_mm_per_week->value, 1e-9);
  EXPECT_NEAR(*p.first_mm->value, 130, 3);
  EXPECT_NEAR(*p.last_mm->value, 70, 3);
  EXPECT_NEAR(*p.within_session_sd_mm, 3, 1e-9);
  EXPECT_FALSE(p.bent);
  ASSERT_EQ(p.sessions.size(), 7u);
  EXPECT_NEAR(*p.sessions[3].line_mm->value, 100, 3);
  EXPECT_LT(Width(*p.sessions[3].line_mm), Width(*p.sessions[0].line_mm));
}

TEST(Progress, ManySessionsGiveTheRandomEffectsRegression) {
  std::mt19937_64 random(12);
  std::normal_distribution<> normal;
  std::vector<SessionPoint> sessions;
  std::vector<Observation> observations;
  for (int i = 0; i < 60; ++i) {
    const double day = 100 - 0.3 * i + 6 * normal(random);
    sessions.push_back(Point(i, {day + 5 * normal(random), day + 5 * normal(random),
                                 day + 5 * normal(random), day + 5 * normal(random)}));
    observations.push_back(ObservationOf(sessions.back(), i / 7.0));
  }
  const Progress p = EstimateProgress(sessions);
  const MaximumLikelihood reml =
      FitMaximumLikelihood(observations, SpreadMethod::kRestricted, Slope::kFree);
  EXPECT_NEAR(*p.slope_mm_per_week->value, reml.slope, 0.02 * std::abs(reml.slope));
  const double t_width = 2 * StudentTQuantile(0.975, 58) * reml.slope_standard_error;
  EXPECT_NEAR(Width(*p.slope_mm_per_week), t_width, 0.05 * t_width);
  EXPECT_NEAR(*p.day_to_day_sd_mm, reml.between_sd, 0.1 * reml.between_sd);
}

TEST(Progress, MoreTrialsDoNotLowerTheDayToDayPart) {
  std::vector<SessionPoint> few, many;
  for (int week = 0; week < 6; ++week) {
    const double mm = 100 + (week % 2 ? 8 : -8);
    few.push_back(Point(7 * week, {mm - 2, mm, mm + 2}));
    std::vector<double> trials;
    trials.reserve(40);
    for (int i = 0; i < 40; ++i) trials.push_back(mm + (i % 5 - 2));
    many.push_back(Point(7 * week, trials));
  }
  const double wide = Width(*EstimateProgress(few).slope_mm_per_week);
  EXPECT_GT(Width(*EstimateProgress(many).slope_mm_per_week), 0.85 * wide);
}

TEST(Progress, TwoSessionsGiveAWideBandThatRestsOnOthers) {
  const Progress p =
      EstimateProgress(std::vector{Point(0, {100, 104, 96}), Point(28, {90, 92, 94})});
  ASSERT_TRUE(p.slope_mm_per_week);
  EXPECT_EQ(p.course, Course::kNoneShown);
  // At least what the published day-to-day spread alone leaves open over four weeks.
  EXPECT_GT(Width(*p.slope_mm_per_week), 2 * kZ * std::sqrt(2) * 7 / 4);
  EXPECT_THAT(p.cautions, Contains(HasSubstr("Fewer than four")));
}

TEST(Progress, EveningsAreKeptAndShownAndNotCounted) {
  std::vector<SessionPoint> sessions = Improving(7.75);
  sessions.insert(sessions.begin() + 3, Point(20, {160, 165, 170}, 19.5));
  const Progress p = EstimateProgress(sessions);
  const Progress without = EstimateProgress(Improving(7.75));
  EXPECT_EQ(p.sessions_counted, 7);
  ASSERT_EQ(p.sessions.size(), 8u);
  EXPECT_FALSE(p.sessions[3].counted);
  EXPECT_THAT(p.sessions[3].why_not, HasSubstr("19:30"));
  EXPECT_THAT(p.sessions[3].why_not, HasSubstr("07:45"));
  EXPECT_EQ(*p.slope_mm_per_week->value, *without.slope_mm_per_week->value);
  ASSERT_TRUE(p.slope_all_hours_mm_per_week);
  EXPECT_GT(Width(*p.slope_all_hours_mm_per_week), Width(*p.slope_mm_per_week));
  EXPECT_FALSE(without.slope_all_hours_mm_per_week);
}

TEST(Progress, MorningAgainstEveningIsNotACourse) {
  // The usual time is the morning's; what is left is one day.
  const Progress p =
      EstimateProgress(std::vector{Point(0.3, {100, 104, 96}, 7), Point(0.35, {100, 101, 99}, 8.4),
                                   Point(40.8, {150, 154, 146}, 19)});
  EXPECT_EQ(p.course, Course::kCannotTell);
  EXPECT_FALSE(p.slope_mm_per_week);
  EXPECT_THAT(p.cautions, Contains(HasSubstr("within one day")));
}

TEST(Progress, ASessionToTheNoseCountsAsABound) {
  std::vector<SessionPoint> sessions = Improving();
  const double before = *EstimateProgress(sessions).last_mm->value;
  sessions.push_back(Nose(56, 50));
  const Progress p = EstimateProgress(sessions);
  EXPECT_EQ(p.sessions_counted, 8);
  EXPECT_EQ(p.course, Course::kNearer);
  EXPECT_LT(*p.last_mm->value, before);
  EXPECT_GT(*p.last_mm->high, 45);  // a bound is not a value
  // A bound far away says nothing.
  sessions.back() = Nose(56, 400);
  EXPECT_NEAR(*EstimateProgress(sessions).slope_mm_per_week->value,
              *EstimateProgress(Improving()).slope_mm_per_week->value, 0.3);
}

TEST(Progress, OneCalibrationFallsOutOfTheSlopeAndTwoDoNot) {
  SharedCalibration first, second;
  first.offset_sd = Length::Millimeters(10);
  second.offset_sd = Length::Millimeters(10.5);
  const auto with = [](const SharedCalibration& before, const SharedCalibration& after) {
    std::vector<SessionPoint> sessions;
    sessions.reserve(6);
    for (int week = 0; week < 6; ++week) {
      sessions.push_back(Point(7 * week, {98, 100, 102}, std::nullopt, week < 3 ? before : after));
    }
    return EstimateProgress(sessions);
  };
  const Progress none = with({}, {});
  const Progress one = with(first, first);
  const Progress two = with(first, second);
  EXPECT_NEAR(Width(*one.slope_mm_per_week), Width(*none.slope_mm_per_week), 1e-9);
  EXPECT_GT(Width(*one.last_mm), Width(*none.last_mm) + 10);
  EXPECT_GT(Width(*two.slope_mm_per_week), Width(*one.slope_mm_per_week) + 2);
  EXPECT_THAT(two.cautions, Contains(HasSubstr("calibration")));
}

TEST(Progress, SaysWhenTheCourseIsBent) {
  std::vector<SessionPoint> sessions;
  for (int week = 0; week < 10; ++week) {
    const double mm = 60 + 80 * std::exp(-0.7 * week) + (week % 2 ? 1 : -1);
    sessions.push_back(Point(7 * week, {mm - 2, mm, mm + 2}));
  }
  EXPECT_TRUE(EstimateProgress(sessions).bent);
}

TEST(Progress, AnswersForTheLastDay) {
  EstimateOptions options;
  options.cut_off = Length::Millimeters(100);
  const Progress p = EstimateProgress(Improving(), options);
  EXPECT_EQ(p.answer, Answer::kWithin);
  EXPECT_LT(*p.probability_beyond, 0.025);
  options.plane = ReferencePlane::kSpectacle;
  options.cut_off = Length::Millimeters(100 - 13.5);
  const Progress moved = EstimateProgress(Improving(), options);
  EXPECT_NEAR(*moved.last_mm->value, *p.last_mm->value - 13.5, 1e-9);
  EXPECT_NEAR(*moved.probability_beyond, *p.probability_beyond, 1e-12);
}

TEST(Progress, TooLittleSaysSo) {
  EXPECT_THAT(EstimateProgress({}).cautions, Contains(HasSubstr("No session")));
  EXPECT_THAT(EstimateProgress(std::vector{Nose(0, 50), Nose(7, 50)}).cautions,
              Contains(HasSubstr("only a bound")));
  EXPECT_EQ(EstimateProgress(std::vector{Point(0, {80})}).course, Course::kCannotTell);
}

// The full table: tests/bench/progress_coverage.cpp.
TEST(Progress, TheBandOfTheSlopeHoldsTheTruth) {
  std::mt19937_64 random(21);
  std::normal_distribution<> normal;
  for (const int n : {3, 8}) {
    int held = 0, found = 0;
    constexpr int kPeople = 1500;
    for (int person = 0; person < kPeople; ++person) {
      const double within = 8 * std::exp(0.33 * normal(random));
      const double daily = 7.75 * std::exp(0.33 * normal(random));
      std::vector<SessionPoint> sessions;
      for (int i = 0; i < n; ++i) {
        const double day = 110 + daily * normal(random);
        sessions.push_back(
            Point(7 * i, {day + within * normal(random), day + within * normal(random),
                          day + within * normal(random)}));
      }
      const Progress p = EstimateProgress(sessions);
      held += p.slope_mm_per_week->low <= 0 && *p.slope_mm_per_week->high >= 0;
      found += p.course != Course::kNoneShown;
    }
    const double error = 3 * std::sqrt(0.05 * 0.95 / kPeople);
    EXPECT_GT(held / static_cast<double>(kPeople), 0.93 - error) << n;
    EXPECT_EQ(held + found, kPeople);
  }
}

}  // namespace
}  // namespace nearpoint
