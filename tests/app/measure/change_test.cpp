#include "app/measure/change.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

namespace nearpoint {
namespace {

// Trials that are exact but for their spread.
SessionPoint Session(const std::vector<double>& breaks) {
  std::vector<Trial> trials;
  for (const double mm : breaks) {
    Trial trial;
    trial.number = static_cast<int>(trials.size()) + 1;
    trial.break_point.emplace().value.value = Length::Millimeters(mm);
    trials.push_back(trial);
  }
  return MakeSessionPoint(trials, {}, 0, std::nullopt).value_or(SessionPoint());
}

SessionPoint Bound(double limit_mm, Censoring censoring) {
  std::vector<Trial> trials(3);
  for (Trial& trial : trials) {
    trial.censored = censoring;
    trial.limit = Length::Millimeters(limit_mm);
  }
  return *MakeSessionPoint(trials, {}, 0, std::nullopt);
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
  const std::vector<SessionPoint> sessions = {Session({69, 71}), Session({79, 81})};
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
  std::vector<SessionPoint> sessions;
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
  const std::vector<SessionPoint> sessions = {Session({70, 80}), Session({80, 70}), Session({})};
  EXPECT_EQ(SeparateVariation(sessions)->day_to_day_sd, 0);
}

TEST(Variation, TooLittle) {
  EXPECT_FALSE(SeparateVariation({}));
  EXPECT_FALSE(SeparateVariation(std::vector<SessionPoint>{Session({70, 72, 75})}));
  EXPECT_FALSE(SeparateVariation(std::vector<SessionPoint>{Session({70}), Session({75})}));
}

// Sessions of one person between which nothing happens.
class StablePerson {
 public:
  StablePerson(double within, double day_to_day, unsigned seed)
      : within_(within), day_to_day_(day_to_day), random_(seed) {}
  SessionPoint Next() {
    const double day = 80 + day_to_day_ * normal_(random_);
    return Session({day + within_ * normal_(random_), day + within_ * normal_(random_),
                    day + within_ * normal_(random_)});
  }

 private:
  double within_, day_to_day_;
  std::mt19937_64 random_;
  std::normal_distribution<> normal_;
};

TEST(Change, OnlyBeyondTheLimit) {
  const SessionPoint before = Session({100, 104, 96});
  const ChangeResult small = CompareSessions(before, Session({90, 92, 94}));
  EXPECT_NEAR(*small.difference_mm, -8, 1e-9);
  EXPECT_EQ(small.change, Change::kNoneShown);
  EXPECT_FALSE(small.own_day_to_day);
  EXPECT_EQ(CompareSessions(before, Session({60, 62, 64})).change, Change::kNearer);
  EXPECT_EQ(CompareSessions(before, Session({138, 140, 142})).change, Change::kFarther);
}

TEST(Change, WithoutRepeatsTheLimitIsThePublishedOne) {
  // Limits of agreement of 25 mm, wider by what is unknown of this person's own spread.
  StablePerson person(8, 0, 4);
  double sum = 0;
  constexpr int kPairs = 400;
  for (int i = 0; i < kPairs; ++i) sum += CompareSessions(person.Next(), person.Next()).limit_mm;
  EXPECT_GT(sum / kPairs, 25);
  EXPECT_LT(sum / kPairs, 25 * 1.45);
}

TEST(Change, RepeatsOfASteadyPersonLowerTheLimit) {
  StablePerson person(4, 1, 5);
  std::vector<SessionPoint> repeats;
  const SessionPoint before = person.Next();
  const SessionPoint after = person.Next();
  double previous = CompareSessions(before, after).limit_mm;
  for (const int count : {4, 12, 40}) {
    while (static_cast<int>(repeats.size()) < count) repeats.push_back(person.Next());
    const ChangeResult result = CompareSessions(before, after, repeats);
    EXPECT_TRUE(result.own_day_to_day);
    EXPECT_LT(result.limit_mm, previous) << count;
    previous = result.limit_mm;
  }
}

TEST(Change, OneRepeatTellsNothingOfASpread) {
  const SessionPoint a = Session({100, 104, 96});
  EXPECT_NEAR(CompareSessions(a, a, std::vector{Session({88, 90, 93})}).limit_mm,
              CompareSessions(a, a).limit_mm, 1e-6);
}

TEST(Change, MoreTrialsDoNotRemoveTheDay) {
  const SessionPoint many = Session(std::vector<double>(200, 90));
  EXPECT_GT(CompareSessions(many, many).limit_mm, 1.96 * std::sqrt(2) * 7);
}

TEST(Change, FalseAlarmsAreFiveInAHundredOverPeople) {
  // People whose spreads are the published ones (as in tests/bench/estimate_coverage.cpp), with and
  // without repeats of their own.
  std::mt19937_64 random(8);
  std::normal_distribution<> normal;
  for (const int repeats : {0, 3, 8}) {
    int alarms = 0;
    constexpr int kPairs = 2000;
    for (int i = 0; i < kPairs; ++i) {
      StablePerson person(8 * std::exp(0.33 * normal(random)),
                          7.75 * std::exp(0.33 * normal(random)), static_cast<unsigned>(random()));
      std::vector<SessionPoint> own;
      own.reserve(static_cast<std::size_t>(repeats));
      for (int k = 0; k < repeats; ++k) own.push_back(person.Next());
      alarms += CompareSessions(person.Next(), person.Next(), own).change != Change::kNoneShown;
    }
    // The prior is wider than this population, so somewhat fewer than 5 %; never more.
    EXPECT_LT(alarms, kPairs * 0.05 + 3 * std::sqrt(0.05 * 0.95 * kPairs)) << repeats;
    EXPECT_GT(alarms, kPairs * 0.02) << repeats;
  }
}

TEST(Change, AnotherTimeOfDayIsNotAChange) {
  SessionPoint morning = Session({80, 82, 84});
  SessionPoint evening = Session({140, 142, 144});
  morning.hour = 8;
  evening.hour = 19;
  EXPECT_TRUE(CompareSessions(morning, evening).hours_differ);
  EXPECT_EQ(CompareSessions(morning, evening).change, Change::kOtherTimeOfDay);
  evening.hour = 10;
  EXPECT_FALSE(CompareSessions(morning, evening).hours_differ);
  EXPECT_EQ(CompareSessions(morning, evening).change, Change::kFarther);
  morning.hour = 23.5;
  evening.hour = 0.5;
  EXPECT_FALSE(CompareSessions(morning, evening).hours_differ);
}

TEST(Change, AnotherCalibrationMayBeTheWholeDifference) {
  SessionPoint before = Session({120, 122, 124});
  SessionPoint after = Session({80, 82, 84});
  EXPECT_EQ(CompareSessions(before, after).change, Change::kNearer);
  before.shared.offset_sd = Length::Millimeters(20);
  before.shared_sd_mm = 20;
  EXPECT_EQ(CompareSessions(before, after).change, Change::kNoneShown);
  after.shared = before.shared;  // the same error in both falls out
  after.shared_sd_mm = 20;
  EXPECT_EQ(CompareSessions(before, after).change, Change::kNearer);
}

TEST(Change, ABoundDecidesOnlyWhereItMust) {
  const SessionPoint nose = Bound(50, Censoring::kBelow);
  const ChangeResult far = CompareSessions(Session({150, 152, 154}), nose);
  EXPECT_EQ(far.change, Change::kNearer);
  EXPECT_FALSE(far.difference_mm);
  EXPECT_EQ(CompareSessions(Session({60, 62, 64}), nose).change, Change::kCannotTell);
  EXPECT_EQ(CompareSessions(nose, nose).change, Change::kCannotTell);
  EXPECT_EQ(CompareSessions(nose, Bound(300, Censoring::kAbove)).change, Change::kFarther);
}

TEST(SessionPoint, ABoundStandsWhereItStopsBeingLikely) {
  const SessionPoint nose = Bound(50, Censoring::kBelow);
  EXPECT_EQ(nose.censored, Censoring::kBelow);
  EXPECT_EQ(nose.trials, 3);
  // Three of three below 50 have an even chance when the mean lies under it by 0.8 of a spread of
  // about 8 (0.5^(1/3) = 0.794 = Phi(0.82)).
  EXPECT_NEAR(nose.value_mm, 50 - 0.82 * 8, 2);
  EXPECT_GT(nose.sd_mm, 2);
  EXPECT_LT(nose.sd_mm, 10);
  EXPECT_FALSE(MakeSessionPoint({}, {}, 0, std::nullopt));
}

}  // namespace
}  // namespace nearpoint
