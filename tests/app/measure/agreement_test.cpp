#include "app/measure/agreement.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <vector>

namespace nearpoint {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

EventDistance Press(double at_ms) {
  EventDistance e;
  e.time = FromMilliseconds(at_ms);
  e.value = {Length::Millimeters(80), Length::Millimeters(1)};
  return e;
}
ObjectiveEvent Turn(double at_ms) {
  ObjectiveEvent e;
  e.time = FromMilliseconds(at_ms);
  e.time_sd = FromMilliseconds(30);
  e.distance = UncertainLength{Length::Millimeters(86), Length::Millimeters(1)};
  e.size = Angle::Degrees(8);
  return e;
}
Trial Reported(double at_ms) {
  Trial t;
  t.number = 1;
  t.break_point = Press(at_ms);
  return t;
}
Trial Silent() {
  Trial t;
  t.number = 1;
  t.censored = Censoring::kBelow;
  return t;
}
ObjectiveResult Drifted(double at_ms, DriftingEye eye = DriftingEye::kLeft) {
  ObjectiveResult r;
  r.break_point = Turn(at_ms);
  r.eye = eye;
  return r;
}
ObjectiveResult Steady(double smallest_deg = 4) {
  ObjectiveResult r;
  r.smallest_visible = Angle::Degrees(smallest_deg);
  return r;
}

TEST(Agreement, APressAfterTheDriftAgreesAndStatesTheLag) {
  const auto a = CompareReport(Reported(10350), Drifted(10000));
  EXPECT_EQ(a.agreement, Agreement::kBothBroke);
  EXPECT_NEAR(ToMilliseconds(*a.break_lag), 350, 1e-6);
  EXPECT_EQ(a.sentence,
            "The left eye turned outward at 8.6 cm and \"double\" was reported 0.3 s later.");
}

TEST(Agreement, TheRecoveryHasItsOwnLag) {
  Trial t = Reported(10350);
  t.recovery = Press(14700);
  ObjectiveResult r = Drifted(10000);
  r.recovery = Turn(14300);
  EXPECT_NEAR(ToMilliseconds(*CompareReport(t, r).recovery_lag), 400, 1e-6);
}

TEST(Agreement, FarApartIsNotTheSameEvent) {
  EXPECT_EQ(CompareReport(Reported(14000), Drifted(10000)).agreement, Agreement::kApart);
  EXPECT_EQ(CompareReport(Reported(8000), Drifted(10000)).agreement, Agreement::kApart);
  EXPECT_EQ(CompareReport(Reported(9500), Drifted(10000)).agreement, Agreement::kBothBroke);
  // A drift whose moment is unsure may still be the same event.
  ObjectiveResult unsure = Drifted(10000);
  unsure.break_point->time_sd = FromMilliseconds(500);
  EXPECT_EQ(CompareReport(Reported(12800), unsure).agreement, Agreement::kBothBroke);
}

TEST(Agreement, ADriftWithoutAReportMayBeSuppression) {
  const auto a = CompareReport(Silent(), Drifted(10000));
  EXPECT_EQ(a.agreement, Agreement::kDriftWithoutReport);
  EXPECT_THAT(a.sentence, HasSubstr("was suppressed, the camera cannot tell"));
  Trial none;
  none.set_aside = SetAside::kNoResponse;
  EXPECT_EQ(CompareReport(none, Drifted(10000)).agreement, Agreement::kDriftWithoutReport);
}

TEST(Agreement, AReportWithoutADriftNeedsThatADriftWouldHaveBeenSeen) {
  EXPECT_EQ(CompareReport(Reported(9000), Steady()).agreement, Agreement::kReportWithoutDrift);
  EXPECT_EQ(CompareReport(Reported(9000), Steady(7)).agreement, Agreement::kCannotTell);
  EXPECT_EQ(CompareReport(Reported(9000), ObjectiveResult{}).agreement, Agreement::kCannotTell);
}

TEST(Agreement, NeitherAgrees) {
  EXPECT_EQ(CompareReport(Silent(), Steady()).agreement, Agreement::kNeitherBroke);
}

TEST(Agreement, ATrialSetAsideIsNotJudged) {
  ObjectiveResult away;
  away.set_aside = SetAside::kNotLooking;
  away.fixation.sentence = "The patient looked elsewhere.";
  const auto a = CompareReport(Reported(9000), away);
  EXPECT_EQ(a.agreement, Agreement::kCannotTell);
  EXPECT_EQ(a.sentence, "The patient looked elsewhere.");
  Trial lost;
  lost.set_aside = SetAside::kTrackingLost;
  EXPECT_EQ(CompareReport(lost, Drifted(10000)).agreement, Agreement::kCannotTell);
}

TEST(SessionAgreement, CountsAndMedians) {
  std::vector<TrialAgreement> trials;
  for (const double lag : {300.0, 360.0, 500.0}) {
    trials.push_back(CompareReport(Reported(10000 + lag), Drifted(10000)));
  }
  trials.push_back(CompareReport(Silent(), Steady()));
  const SessionAgreement s = CompareSession(trials);
  EXPECT_EQ(s.both, 3);
  EXPECT_EQ(s.neither, 1);
  EXPECT_FALSE(s.flagged);
  EXPECT_NEAR(ToMilliseconds(*s.median_break_lag), 360, 1e-6);
  EXPECT_NEAR(ToMilliseconds(*s.break_lag_spread), 1.4826 * 60, 1e-6);  // computed
  EXPECT_EQ(s.sentences[0], "Report and eyes agree in 4 of 4 trials that can be judged.");
}

TEST(SessionAgreement, DisagreementIsFlagged) {
  const auto both = CompareReport(Reported(10300), Drifted(10000));
  const auto silent = CompareReport(Silent(), Drifted(10000));
  const auto random = CompareReport(Reported(9000), Steady());
  const SessionAgreement one_of_five = CompareSession(std::vector{both, both, both, both, silent});
  EXPECT_EQ(one_of_five.drift_only, 1);
  EXPECT_FALSE(one_of_five.flagged);
  const SessionAgreement two_of_three = CompareSession(std::vector{both, silent, random});
  EXPECT_TRUE(two_of_three.flagged);
  EXPECT_THAT(two_of_three.sentences, Contains(HasSubstr("disagree")));
  EXPECT_THAT(two_of_three.sentences, Contains(HasSubstr("suppressed")));
}

TEST(SessionAgreement, WithoutAJudgedTrialItSaysSo) {
  const SessionAgreement s = CompareSession({});
  EXPECT_FALSE(s.flagged);
  EXPECT_FALSE(s.median_break_lag);
  ASSERT_EQ(s.sentences.size(), 1U);
}

}  // namespace
}  // namespace nearpoint
