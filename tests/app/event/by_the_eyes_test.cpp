#include "app/event/by_the_eyes.h"

#include <gtest/gtest.h>

namespace nearpoint {
namespace {

const Length kCutOff = Length::Millimeters(73.5);

Trial Silent() {
  Trial trial;
  trial.number = 1;
  trial.set_aside = SetAside::kNoResponse;
  trial.nearest = Length::Millimeters(47);
  return trial;
}

ObjectiveResult BrokeAt(double mm) {
  ObjectiveResult eyes;
  ObjectiveEvent event;
  event.distance = UncertainLength{Length::Millimeters(mm), Length::Millimeters(3)};
  eyes.break_point = event;
  return eyes;
}

TEST(ByTheEyesTest, TheBreakIsWhereAnEyeLeft) {
  const Trial trial = ByTheEyes(Silent(), BrokeAt(88), kCutOff);
  ASSERT_TRUE(trial.break_point);
  EXPECT_FALSE(trial.set_aside);
  EXPECT_DOUBLE_EQ(trial.break_point->value.value.mm(), 88);
  EXPECT_DOUBLE_EQ(trial.break_point->value.sd.mm(), 3);
}

TEST(ByTheEyesTest, WithoutADriftOnlyWhatWouldHaveBeenSeenCounts) {
  ObjectiveResult eyes;
  EXPECT_EQ(ByTheEyes(Silent(), eyes, kCutOff).set_aside,
            SetAside::kNoResponse);  // nothing is known
  eyes.smallest_visible = Angle::Degrees(12);
  EXPECT_EQ(ByTheEyes(Silent(), eyes, kCutOff).set_aside, SetAside::kNoResponse);
  eyes.smallest_visible = Angle::Degrees(5);
  const Trial trial = ByTheEyes(Silent(), eyes, kCutOff);
  EXPECT_FALSE(trial.set_aside);
  EXPECT_EQ(trial.censored, Censoring::kBelow);
  EXPECT_DOUBLE_EQ(trial.limit->mm(), 47);
}

TEST(ByTheEyesTest, WhoTurnsRoundBeforeTheLimitSaysNothingAboutIt) {
  ObjectiveResult eyes;
  eyes.smallest_visible = Angle::Degrees(3);
  Trial far = Silent();
  far.nearest = Length::Millimeters(200);
  EXPECT_EQ(ByTheEyes(far, eyes, kCutOff).set_aside, SetAside::kNoApproach);
  // An eye that seems to leave where the head turns round; one that left well before is a break.
  EXPECT_EQ(ByTheEyes(far, BrokeAt(217), kCutOff).set_aside, SetAside::kNoApproach);
  EXPECT_FALSE(ByTheEyes(far, BrokeAt(260), kCutOff).set_aside);
}

TEST(ByTheEyesTest, WhoDidNotLookIsNotMeasured) {
  ObjectiveResult eyes = BrokeAt(88);
  eyes.set_aside = SetAside::kNotLooking;
  EXPECT_EQ(ByTheEyes(Silent(), eyes, kCutOff).set_aside, SetAside::kNotLooking);
  Trial fast = Silent();
  fast.set_aside = SetAside::kTooFast;
  EXPECT_EQ(ByTheEyes(fast, BrokeAt(88), kCutOff).set_aside, SetAside::kTooFast);
}

TEST(ByTheEyesTest, TheReportComesFirstWhereItSuffices) {
  std::vector<Trial> trials(3, Silent());
  std::vector<TrialEyes> eyes(3, TrialEyes{BrokeAt(110), {}});
  const EstimateOptions options;
  const ChildMeasured silent = MeasuredFrom(trials, eyes, {}, options, 2);
  EXPECT_EQ(silent.basis, Basis::kEyes);
  EXPECT_EQ(silent.trials_used, 3);
  EXPECT_NEAR(*silent.break_mm, 110, 1);
  EXPECT_GT(*silent.probability_beyond, 0.9);

  for (Trial& trial : trials) {
    trial.set_aside.reset();
    trial.break_point = EventDistance();
    trial.break_point->value = {Length::Millimeters(50), Length::Millimeters(2)};
  }
  const ChildMeasured reported = MeasuredFrom(trials, eyes, {}, options, 2);
  EXPECT_EQ(reported.basis, Basis::kReport);
  EXPECT_NEAR(*reported.break_mm, 50, 1);
  EXPECT_FALSE(reported.contradicted);

  // A hand that presses while both eyes are still on the target decides nothing.
  for (TrialEyes& trial : eyes) trial.agreement.agreement = Agreement::kReportWithoutDrift;
  const ChildMeasured contradicted = MeasuredFrom(trials, eyes, {}, options, 2);
  EXPECT_TRUE(contradicted.contradicted);
  EXPECT_EQ(Judge(EventRule(), contradicted.trials_used, contradicted.probability_beyond,
                  contradicted.contradicted),
            Finding::kMeasureAgain);

  // All the way to the nose: no value, and yet the rule can tell.
  std::vector<Trial> near(2);
  for (Trial& trial : near) {
    trial.censored = Censoring::kBelow;
    trial.limit = Length::Millimeters(45);
  }
  const ChildMeasured bound = MeasuredFrom(near, {}, {}, options, 2);
  EXPECT_FALSE(bound.break_mm);
  EXPECT_EQ(Judge(EventRule(), bound.trials_used, bound.probability_beyond), Finding::kWithin);
}

TEST(ByTheEyesTest, NothingThatCountsIsSaidToBeNothing) {
  const std::vector<Trial> trials{Silent()};
  const std::vector<TrialEyes> eyes(1);
  const ChildMeasured none = MeasuredFrom(trials, eyes, {}, {}, 2);
  EXPECT_EQ(none.trials_used, 0);
  EXPECT_EQ(none.set_aside.size(), 1u);
  EXPECT_EQ(Judge(EventRule(), none.trials_used, none.probability_beyond), Finding::kNotMeasured);
}

}  // namespace
}  // namespace nearpoint
