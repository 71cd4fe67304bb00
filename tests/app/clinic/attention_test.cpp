#include "app/clinic/attention.h"

#include <gmock/gmock.h>

#include "app/records/exercise_plan_json.h"
#include "tests/support/clinic_sessions.h"

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

SessionDigest Measured(const std::string& at, double mm, const std::string& comfort = "fine") {
  SentSession sent;
  sent.started_at = at + "T08:00:00+01:00";
  sent.breaks_mm = {mm - 1, mm, mm + 1};
  sent.comfort = comfort;
  const std::string text = SessionText(sent);
  return DigestOf(text, AuditLog(HashOf(text)), 0, "session.json").value();
}

std::vector<Reason> List(const std::vector<SessionDigest>& sessions) {
  return ReasonsFromSessions(sessions).List();
}

Day On(const char* day) { return ParseDay(day).value(); }

TEST(Attention, NothingToSeeGivesNoReason) {
  EXPECT_THAT(List({}), IsEmpty());
  EXPECT_THAT(List({Measured("2026-03-02", 45)}), IsEmpty());
  EXPECT_THAT(List({Measured("2026-03-02", 45), Measured("2026-03-09", 47)}), IsEmpty());
}

TEST(Attention, EachReasonHasItsSign) {
  EXPECT_THAT(List({Measured("2026-03-02", 95)}), ElementsAre(Reason::kBeyond));
  EXPECT_THAT(List({Measured("2026-03-02", 45, "double")}), ElementsAre(Reason::kSymptoms));
  EXPECT_THAT(List({Measured("2026-03-02", 45, "discomfort")}), ElementsAre(Reason::kSymptoms));
  EXPECT_THAT(List({Measured("2026-03-02", 45, "tired")}), IsEmpty());
  SessionDigest odd = Measured("2026-03-02", 45);
  odd.eyes_disagree = true;
  odd.used = 2;
  EXPECT_THAT(List({odd}), ElementsAre(Reason::kDisagreement, Reason::kPoorQuality));
}

TEST(Attention, WorseIsBeyondWhatRepeatsGive) {
  // The published day-to-day deviation alone is about 8 mm, so its limit is some 25 mm.
  EXPECT_THAT(List({Measured("2026-03-02", 30), Measured("2026-03-09", 40)}), IsEmpty());
  const auto reasons = List({Measured("2026-03-02", 40), Measured("2026-03-09", 90)});
  EXPECT_THAT(reasons, ElementsAre(Reason::kWorse, Reason::kBeyond));
  // Nearer is no reason to worry.
  EXPECT_THAT(List({Measured("2026-03-02", 90), Measured("2026-03-09", 40)}), IsEmpty());
}

TEST(Attention, SlowlyWorseIsSeenAgainstTheFirst) {
  EXPECT_THAT(
      List({Measured("2026-03-02", 25), Measured("2026-03-09", 46), Measured("2026-03-16", 67)}),
      testing::Contains(Reason::kWorse));
}

TEST(Attention, AnotherTimeOfDayIsNotHeldAgainst) {
  SessionDigest evening = Measured("2026-03-09", 90);
  evening.hour = 20;
  evening.point->hour = 20;
  EXPECT_THAT(List({Measured("2026-03-02", 40), evening}), ElementsAre(Reason::kBeyond));
}

TEST(Attention, WhatWasAcceptedAndWhatIsSimulatedGivesNoReason) {
  SessionDigest accepted = Measured("2026-03-02", 95, "double");
  accepted.accepted = true;
  EXPECT_THAT(List({accepted}), IsEmpty());
  SessionDigest simulated = Measured("2026-03-09", 120);
  simulated.simulated = true;
  EXPECT_THAT(List({Measured("2026-03-02", 45), simulated}), IsEmpty());
}

TEST(Attention, TheMostUrgentReasonDecidesTheOrder) {
  Reasons symptoms;
  symptoms.Add(Reason::kSymptoms);
  Reasons everything_else;
  for (int i = 1; i < kReasonCount; ++i) everything_else.Add(static_cast<Reason>(i));
  EXPECT_GT(symptoms.urgency(), everything_else.urgency());
  Reasons two = symptoms;
  two.Add(Reason::kMeasureDue);
  EXPECT_GT(two.urgency(), symptoms.urgency());
  EXPECT_EQ(Reasons::FromStored(two.stored()), two);
  EXPECT_EQ(Reasons::FromStored(two.stored() | 0x80000000U), two);
}

PlanState Exercising() {
  PlanState state;
  state.plan = CommonPracticePlan();
  state.plan->starts = On("2026-03-01");
  state.plan->until = On("2026-05-01");
  return state;
}

TEST(Attention, ExerciseHasStoppedAfterTenDaysWithout) {
  PlanState state = Exercising();
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-10")).List(), IsEmpty());
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-11")).List(),
              ElementsAre(Reason::kExerciseStopped));
  state.last_exercise = On("2026-03-05");
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-14")).List(), IsEmpty());
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-15")).List(),
              ElementsAre(Reason::kExerciseStopped));
  // Before it begins and after its end nothing is asked for.
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-02-20")).List(), IsEmpty());
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-05-02")).List(), IsEmpty());
  // A look starts the ten days anew.
  state.seen = On("2026-03-15");
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-24")).List(), IsEmpty());
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-25")).List(),
              ElementsAre(Reason::kExerciseStopped));
  EXPECT_THAT(ReasonsFromPlan({}, On("2026-03-25")).List(), IsEmpty());
}

TEST(Attention, AMeasurementIsDueTheDayAfterItsDate) {
  PlanState state = Exercising();
  state.last_exercise = On("2026-03-20");
  state.plan->measure_on = {On("2026-03-14"), On("2026-03-21")};
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-14")).List(), IsEmpty());
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-15")).List(), ElementsAre(Reason::kMeasureDue));
  state.last_measured = On("2026-03-14");
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-15")).List(), IsEmpty());
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-22")).List(), ElementsAre(Reason::kMeasureDue));
  state.seen = On("2026-03-22");
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-23")).List(), IsEmpty());
}

TEST(Attention, SymptomsAfterExerciseAndInTheOfficeCountUntilSeen) {
  PlanState state;
  state.last_comfort = "double";
  state.last_comfort_day = On("2026-03-10");
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-11")).List(), ElementsAre(Reason::kSymptoms));
  state.seen = On("2026-03-10");
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-11")).List(), IsEmpty());
  state.high_score_day = On("2026-03-11");
  EXPECT_THAT(ReasonsFromPlan(state, On("2026-03-11")).List(), ElementsAre(Reason::kSymptoms));
}

}  // namespace
}  // namespace nearpoint
