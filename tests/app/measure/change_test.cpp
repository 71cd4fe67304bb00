#include "app/measure/change.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

namespace nearpoint {
namespace {

SessionBreaks Session(std::vector<double> breaks, double day = 0) {
  SessionBreaks session;
  session.day = day;
  session.breaks_mm = std::move(breaks);
  return session;
}

TEST(Repeatability, PeakFlowOfBlandAndAltman) {
  // 2.77 times the within-subject deviations of the Lancet 1986 data (computed).
  EXPECT_NEAR(RepeatabilityLimit(15.31), 42.4, 0.05);
  EXPECT_NEAR(RepeatabilityLimit(19.91), 55.2, 0.05);
  EXPECT_NEAR(RepeatabilityLimit(1), 2.7718, 1e-4);
}

TEST(Repeatability, FewDegreesWidenIt) {
  EXPECT_NEAR(RepeatabilityLimit(1, 2), 4.302653 * std::sqrt(2), 1e-5);
  EXPECT_NEAR(RepeatabilityLimit(1, 1e7), RepeatabilityLimit(1), 1e-5);
}

TEST(Variation, PublishedPartsAddUpToTheirSource) {
  // Limits of agreement of 25 mm between single sessions of three trials.
  const Variation v = PublishedVariation();
  EXPECT_NEAR(
      1.96 * std::sqrt(2 * (v.day_to_day_sd * v.day_to_day_sd + v.within_sd * v.within_sd / 3)), 25,
      0.01);
}

TEST(Variation, WorkedByHand) {
  // Means 70 and 80, within squares 2 + 2 over 2 degrees, between square 2 * (25 + 25) over 1,
  // usual count 2.
  const std::vector<SessionBreaks> sessions = {Session({69, 71}), Session({79, 81})};
  const auto v = SeparateVariation(sessions);
  ASSERT_TRUE(v);
  EXPECT_NEAR(v->within_sd, std::sqrt(2), 1e-12);
  EXPECT_NEAR(v->day_to_day_sd, std::sqrt((100.0 - 2) / 2), 1e-12);
  EXPECT_EQ(v->sessions, 2);
  EXPECT_EQ(v->within_degrees, 2);
}

TEST(Variation, SimulatedPartsComeBack) {
  std::mt19937_64 random(3);
  std::normal_distribution<> normal;
  std::vector<SessionBreaks> sessions;
  for (int i = 0; i < 2000; ++i) {
    const double day = 80 + 6 * normal(random);
    std::vector<double> breaks;
    breaks.reserve(5);
    for (int k = 0; k < 2 + i % 4; ++k) breaks.push_back(day + 8 * normal(random));
    sessions.push_back(Session(breaks));
  }
  const auto v = SeparateVariation(sessions);
  ASSERT_TRUE(v);
  EXPECT_NEAR(v->within_sd, 8, 0.25);
  EXPECT_NEAR(v->day_to_day_sd, 6, 0.4);
}

TEST(Variation, EqualSessionsHaveNoDayToDay) {
  const std::vector<SessionBreaks> sessions = {Session({70, 80}), Session({80, 70}), Session({})};
  EXPECT_EQ(SeparateVariation(sessions)->day_to_day_sd, 0);
}

TEST(Variation, TooLittle) {
  EXPECT_FALSE(SeparateVariation({}));
  EXPECT_FALSE(SeparateVariation(std::vector<SessionBreaks>{Session({70, 72, 75})}));
  EXPECT_FALSE(SeparateVariation(std::vector<SessionBreaks>{Session({70}), Session({75})}));
}

TEST(Change, OnlyBeyondTheLimit) {
  const Variation variation{
      .within_sd = 6, .within_degrees = 20, .day_to_day_sd = 4, .sessions = 5};
  const SessionBreaks before = Session({100, 104, 96});
  const ChangeResult small = CompareSessions(before, Session({90, 92, 94}), variation);
  ASSERT_TRUE(small.limit_mm);
  EXPECT_NEAR(*small.limit_mm, 1.959964 * std::sqrt(36.0 / 3 + 36.0 / 3 + 32), 1e-5);
  EXPECT_NEAR(*small.difference_mm, -8, 1e-12);
  EXPECT_EQ(small.change, Change::kNoneShown);
  EXPECT_EQ(CompareSessions(before, Session({70, 72, 74}), variation).change, Change::kNearer);
  EXPECT_EQ(CompareSessions(before, Session({130, 132, 134}), variation).change, Change::kFarther);
  // Another calibration may be the whole difference.
  EXPECT_EQ(CompareSessions(before, Session({70, 72, 74}), variation, 10).change,
            Change::kNoneShown);
}

TEST(Change, MoreTrialsDoNotRemoveTheDay) {
  const Variation variation{
      .within_sd = 6, .within_degrees = 20, .day_to_day_sd = 4, .sessions = 5};
  const SessionBreaks many = Session(std::vector<double>(1000, 90));
  EXPECT_GT(*CompareSessions(many, many, variation).limit_mm, 1.959 * 4 * std::sqrt(2));
}

TEST(Change, FalseAlarmsAreFiveInAHundred) {
  std::mt19937_64 random(8);
  std::normal_distribution<> normal;
  const Variation variation{
      .within_sd = 8, .within_degrees = 50, .day_to_day_sd = 5, .sessions = 9};
  const auto draw = [&] {
    const double day = 80 + 5 * normal(random);
    return Session({day + 8 * normal(random), day + 8 * normal(random), day + 8 * normal(random)});
  };
  int alarms = 0;
  constexpr int kPairs = 20000;
  for (int i = 0; i < kPairs; ++i)
    alarms += CompareSessions(draw(), draw(), variation).change != Change::kNoneShown;
  EXPECT_NEAR(alarms / static_cast<double>(kPairs), 0.05, 4 * std::sqrt(0.05 * 0.95 / kPairs));
}

TEST(Change, SaysWhenTheTimesOfDayDiffer) {
  SessionBreaks morning = Session({80, 82, 84});
  SessionBreaks evening = morning;
  morning.hour = 8;
  evening.hour = 19;
  EXPECT_TRUE(CompareSessions(morning, evening, PublishedVariation()).hours_differ);
  evening.hour = 10;
  EXPECT_FALSE(CompareSessions(morning, evening, PublishedVariation()).hours_differ);
  morning.hour = 23.5;
  evening.hour = 0.5;
  EXPECT_FALSE(CompareSessions(morning, evening, PublishedVariation()).hours_differ);
}

TEST(Change, ASessionWithoutAValueCannotTell) {
  const ChangeResult r = CompareSessions(Session({}), Session({80}), PublishedVariation());
  EXPECT_EQ(r.change, Change::kCannotTell);
  EXPECT_FALSE(r.difference_mm);
}

}  // namespace
}  // namespace nearpoint
