// What follows from the answers before a measurement or an exercise.
#include "app/safety/safety_check.h"

#include <gmock/gmock.h>

namespace nearpoint {
namespace {

using enum SafetyQuestion;
using std::chrono::days;
using std::chrono::seconds;

constexpr seconds kNow = days(20000);

SafetyAnswers AllNo() {
  SafetyAnswers answers;
  while (const auto next = NextOfCheck(answers)) answers[*next] = false;
  return answers;
}

SafetyFacts Cleared() {
  SafetyFacts facts;
  facts.whole = {kNow - days(1), AllNo(), 1};
  return facts;
}

TEST(SafetyCheck, AsksSixQuestionsAndOneMoreWhereAProfessionalMayHaveAgreed) {
  EXPECT_EQ(AllNo().size(), 6u);
  EXPECT_EQ(QuestionsOfCheck(AllNo()), 6);
  SafetyAnswers squint = AllNo();
  squint[kSquint] = true;
  EXPECT_EQ(NextOfCheck(squint), kAgreed);
  EXPECT_EQ(QuestionsOfCheck(squint), 7);
  EXPECT_EQ(NumberInCheck(kAgreed), 7);
  // With a sign that must be seen nobody else's word counts.
  squint[kPain] = true;
  EXPECT_EQ(NextOfCheck(squint), std::nullopt);
}

TEST(SafetyCheck, AYesStops) {
  EXPECT_EQ(StopFor(AllNo()), Stop::kNone);
  for (const auto question : {kDoubleVision, kSigns, kPain}) {
    SafetyAnswers answers = AllNo();
    answers[question] = true;
    answers[kAgreed] = true;
    EXPECT_EQ(StopFor(answers), Stop::kBeSeen) << ToText(question);
  }
  for (const auto question : {kHeadBlow, kSquint, kOperation}) {
    SafetyAnswers answers = AllNo();
    answers[question] = true;
    EXPECT_EQ(StopFor(answers), Stop::kAskFirst) << ToText(question);
    answers[kAgreed] = false;
    EXPECT_EQ(StopFor(answers), Stop::kAskFirst) << ToText(question);
    answers[kAgreed] = true;
    EXPECT_EQ(StopFor(answers), Stop::kNone) << ToText(question);
  }
}

TEST(SafetyCheck, AStopStaysUntilTheWholeCheckIsAnsweredOtherwise) {
  SafetyFacts facts = Cleared();
  facts.today = {kNow, {{kNewToday, true}}, 2};
  EXPECT_EQ(StopOf(facts), Stop::kBeSeen);
  EXPECT_EQ(NextSafetyStep(facts, {}, SafetyFor::kMeasurement, kNow), SafetyStep::kStopped);
  // However old it is.
  EXPECT_EQ(NextSafetyStep(facts, {}, SafetyFor::kExercise, kNow + days(400)),
            SafetyStep::kStopped);
  facts.whole->number = 3;
  EXPECT_EQ(StopOf(facts), Stop::kNone);
  // What the whole check says is not taken back by the day's question.
  facts.whole->answers[kSquint] = true;
  facts.today = {kNow, {{kNewToday, false}}, 4};
  EXPECT_EQ(StopOf(facts), Stop::kAskFirst);
}

TEST(SafetyCheck, IsAskedAgainWhenItIsOldAndBrieflyEachTime) {
  const auto step = [](const SafetyFacts& facts, seconds time, SafetyNow now = {}) {
    return NextSafetyStep(facts, now, SafetyFor::kMeasurement, time);
  };
  EXPECT_EQ(step({}, kNow), SafetyStep::kWhole);
  SafetyFacts facts = Cleared();
  EXPECT_EQ(step(facts, kNow), SafetyStep::kNewToday);
  EXPECT_EQ(step(facts, kNow, {true, false}), SafetyStep::kMayBegin);
  EXPECT_EQ(step(facts, facts.whole->at + kAskAgainAfter, {true, false}), SafetyStep::kMayBegin);
  EXPECT_EQ(step(facts, facts.whole->at + kAskAgainAfter + seconds(1), {true, false}),
            SafetyStep::kWhole);
  facts.trouble = true;
  EXPECT_EQ(step(facts, kNow, {true, false}), SafetyStep::kAskWhom);
}

TEST(SafetyCheck, AChildUnderTwelveNeedsAnAdultEachTime) {
  EXPECT_FALSE(MayBeUnderTwelve(std::nullopt, 2026));
  EXPECT_TRUE(MayBeUnderTwelve(2016, 2026));
  EXPECT_TRUE(MayBeUnderTwelve(2014, 2026));  // twelve this year, perhaps not yet
  EXPECT_FALSE(MayBeUnderTwelve(2013, 2026));
  SafetyFacts facts = Cleared();
  facts.may_be_under_twelve = true;
  for (const auto what : {SafetyFor::kMeasurement, SafetyFor::kExercise}) {
    EXPECT_EQ(NextSafetyStep(facts, {true, false}, what, kNow), SafetyStep::kAdult);
  }
  EXPECT_EQ(NextSafetyStep(facts, {true, true}, SafetyFor::kMeasurement, kNow),
            SafetyStep::kMayBegin);
}

TEST(SafetyCheck, AnExerciseNeedsAPlanOrAWord) {
  SafetyFacts facts = Cleared();
  const auto step = [&facts] {
    return NextSafetyStep(facts, {true, false}, SafetyFor::kExercise, kNow);
  };
  EXPECT_EQ(step(), SafetyStep::kTold);
  facts.told = {kNow, {{kToldToExercise, false}}, 5};
  EXPECT_EQ(step(), SafetyStep::kTold);
  facts.told = {kNow, {{kToldToExercise, true}}, 6};
  EXPECT_EQ(step(), SafetyStep::kMayBegin);
  facts.told->at = kNow - kAskAgainAfter - seconds(1);
  EXPECT_EQ(step(), SafetyStep::kTold);
  facts.plan_by_clinician = true;
  EXPECT_EQ(step(), SafetyStep::kMayBegin);
  EXPECT_EQ(NextSafetyStep(facts, {true, false}, SafetyFor::kMeasurement, kNow),
            SafetyStep::kMayBegin);
}

TEST(SafetyCheck, QuestionsKeepTheirNamesInFiles) {
  for (const auto question : {kDoubleVision, kSigns, kPain, kHeadBlow, kSquint, kOperation, kAgreed,
                              kNewToday, kAdultBeside, kToldToExercise}) {
    EXPECT_EQ(ParseSafetyQuestion(ToText(question)), question);
  }
  EXPECT_EQ(ParseSafetyQuestion("else"), std::nullopt);
}

}  // namespace
}  // namespace nearpoint
