#include "app/exercise/diary.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

namespace nearpoint {
namespace {

using std::chrono::days;
using ::testing::SizeIs;
using namespace std::chrono_literals;  // NOLINT(google-build-using-namespace): y and d

Day On(int month, unsigned day) {
  return Day(2026y / std::chrono::month(static_cast<unsigned>(month)) / std::chrono::day(day));
}

DiaryEntry Done(Day day, int counted = 10, std::optional<double> reach = std::nullopt) {
  DiaryEntry e;
  e.day = day;
  e.counted = counted;
  e.asked = 10;
  if (reach) e.reach = UncertainLength{Length::Millimeters(*reach), Length::Millimeters(4)};
  return e;
}

ExercisePlan FiveDays() {
  ExercisePlan plan = CommonPracticePlan();
  plan.days_per_week = 5;
  plan.mornings = true;
  plan.starts = On(8, 3);  // a Monday
  plan.until = On(8, 26);  // a Wednesday
  return plan;
}

TEST(Diary, MondayOfAnyDay) {
  EXPECT_EQ(MondayOf(On(8, 3)), On(8, 3));
  EXPECT_EQ(MondayOf(On(8, 9)), On(8, 3));
  EXPECT_EQ(MondayOf(On(8, 10)), On(8, 10));
  EXPECT_EQ(MondayOf(On(3, 1)), On(2, 23));
}

TEST(Diary, WeeksWithWhatWasDone) {
  const std::vector<DiaryEntry> entries = {Done(On(8, 5)), Done(On(8, 4), 4), Done(On(8, 11), 3),
                                           Done(On(8, 11), 7)};
  const auto weeks = DiaryWeeks(FiveDays(), entries, On(8, 12), 3);
  ASSERT_THAT(weeks, SizeIs(2));  // the week before the plan is not shown
  for (const DiaryWeek& week : weeks) ASSERT_THAT(week.days, SizeIs(7));
  EXPECT_EQ(weeks[0].done, 2);
  EXPECT_EQ(weeks[0].wanted, 5);
  EXPECT_EQ(weeks[0].days[0].mark, DayMark::kNone);
  EXPECT_EQ(weeks[0].days[1].mark, DayMark::kPart);
  EXPECT_EQ(weeks[0].days[2].mark, DayMark::kDone);
  EXPECT_EQ(weeks[1].days[1].mark, DayMark::kDone);  // two halves make a day
  EXPECT_EQ(weeks[1].days[2].mark, DayMark::kNone);  // today, still to do
  EXPECT_EQ(weeks[1].days[3].mark, DayMark::kNotAsked);
}

// Nobody was asked for anything before the first day.
TEST(Diary, APlanWithoutAFirstDayBeginsWithTheFirstEntry) {
  const ExercisePlan plan = CommonPracticePlan();
  auto weeks = DiaryWeeks(plan, {}, On(8, 12), 6);
  ASSERT_THAT(weeks, SizeIs(1));
  EXPECT_EQ(weeks[0].days[1].mark, DayMark::kNotAsked);  // yesterday
  EXPECT_EQ(weeks[0].days[2].mark, DayMark::kNone);      // today
  EXPECT_EQ(weeks[0].wanted, 5);                         // Wednesday to Sunday
  weeks = DiaryWeeks(plan, std::vector{Done(On(8, 5))}, On(8, 12), 6);
  ASSERT_THAT(weeks, SizeIs(2));
  EXPECT_EQ(weeks[0].days[1].mark, DayMark::kNotAsked);
  EXPECT_EQ(weeks[0].days[2].mark, DayMark::kDone);
  EXPECT_EQ(weeks[0].days[3].mark, DayMark::kNone);
}

TEST(Diary, AWeekThatThePlanCoversInPart) {
  const auto weeks = DiaryWeeks(FiveDays(), {}, On(8, 26), 1);
  EXPECT_EQ(weeks[0].wanted, 3);  // Monday to Wednesday
}

TEST(Diary, Reminders) {
  const ExercisePlan plan = FiveDays();
  EXPECT_EQ(RemindNow(plan, {}, On(8, 2), 8), Reminder::kNotBegun);
  EXPECT_EQ(RemindNow(plan, {}, On(8, 3), 8), Reminder::kDue);
  EXPECT_EQ(RemindNow(plan, {}, On(8, 3), 12), Reminder::kDueLate);
  EXPECT_EQ(RemindNow(plan, {}, On(8, 26), 8), Reminder::kDue);
  EXPECT_EQ(RemindNow(plan, {}, On(8, 27), 8), Reminder::kOver);
  EXPECT_EQ(RemindNow(plan, std::vector{Done(On(8, 4))}, On(8, 4), 8), Reminder::kDoneToday);
  EXPECT_EQ(RemindNow(plan, std::vector{Done(On(8, 4), 6)}, On(8, 4), 8), Reminder::kDue);
  std::vector<DiaryEntry> five;
  for (unsigned i = 3; i < 8; ++i) five.push_back(Done(On(8, i)));
  EXPECT_EQ(RemindNow(plan, five, On(8, 8), 8), Reminder::kEnough);
  EXPECT_EQ(RemindNow(plan, five, On(8, 10), 8), Reminder::kDue);  // a new week
  five.pop_back();
  EXPECT_EQ(RemindNow(plan, five, On(8, 8), 8), Reminder::kDue);
  ExercisePlan any = plan;
  any.mornings = false;
  EXPECT_EQ(RemindNow(any, {}, On(8, 3), 21), Reminder::kDue);
}

TEST(Diary, NearestOfEachDayInOrder) {
  const std::vector<DiaryEntry> entries = {Done(On(8, 9), 10, 120), Done(On(8, 5), 10, 150),
                                           Done(On(8, 9), 10, 110), Done(On(8, 7), 3)};
  const ReachCourse course = ReachOverTime(entries);
  ASSERT_THAT(course.points, SizeIs(2));
  EXPECT_EQ(course.points[0].day, On(8, 5));
  EXPECT_EQ(course.points[1].mm, 110);
  EXPECT_NEAR(course.points[1].band.low, 110 - 1.96 * 4, 0.01);
  EXPECT_FALSE(course.trend_mm_per_week);
}

// y = x^2 over x = 0..4 weeks: slope 4, residual deviation sqrt(14 / 3), t(0.975, 3) = 3.18245
// (tables), so half the band is 3.18245 sqrt(14 / 3 / 10) = 2.174 (computed).
TEST(Diary, TrendAsByHand) {
  std::vector<DiaryEntry> entries;
  entries.reserve(10);
  for (int i = 0; i < 5; ++i) entries.push_back(Done(On(8, 3) + days(7 * i), 10, 100 + i * i));
  const ReachCourse course = ReachOverTime(entries);
  ASSERT_TRUE(course.trend_mm_per_week);
  EXPECT_NEAR(course.trend_mm_per_week->value.value(), 4, 1e-9);
  EXPECT_NEAR(course.trend_mm_per_week->low, 4 - 2.174, 1e-3);
  EXPECT_TRUE(course.changes);
}

// The band of the trend holds the truth 19 times in 20.
TEST(Diary, TrendCoverage) {
  std::mt19937_64 random(11);
  std::normal_distribution<double> scatter(0, 8);
  int held = 0;
  constexpr int kRuns = 400;
  for (int run = 0; run < kRuns; ++run) {
    std::vector<DiaryEntry> entries;
    entries.reserve(9);
    for (int i = 0; i < 9; ++i) {
      entries.push_back(Done(On(8, 3) + days(3 * i), 10, 150 - 4.0 * 3 * i / 7 + scatter(random)));
    }
    const Band band = ReachOverTime(entries).trend_mm_per_week.value();
    held += band.low <= -4 && -4 <= *band.high ? 1 : 0;
  }
  EXPECT_NEAR(held / static_cast<double>(kRuns), 0.95, 0.033);  // three deviations of 400
}

TEST(Diary, NoTrendFromFewDaysOrAShortTime) {
  std::vector<DiaryEntry> entries;
  entries.reserve(10);
  for (int i = 0; i < 10; ++i) entries.push_back(Done(On(8, 3) + days(i), 10, 150 - i));
  EXPECT_FALSE(ReachOverTime(entries).trend_mm_per_week);
  EXPECT_THAT(ReachOverTime({}).points, SizeIs(0));
}

}  // namespace
}  // namespace nearpoint
