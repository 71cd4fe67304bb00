// The course of a measurement on a person made of numbers: distances and presses, no pictures.
#include "app/guide/measure_flow.h"

#include <gmock/gmock.h>

#include <chrono>
#include <cmath>
#include <random>
#include <string>
#include <utility>
#include <vector>

namespace nearpoint {
namespace {

using testing::Eq;
using testing::Optional;
using testing::SizeIs;

constexpr double kFrameMs = 1000.0 / 30;

// Moves at a constant speed and tells the flow of each frame.
class Mover {
 public:
  explicit Mover(MeasureFlow& flow) : flow_(flow) {}

  // Stops early when a trial ends; true then.
  bool MoveTo(double mm, double mm_per_s) {
    const double step = mm_per_s * kFrameMs / 1000;
    while (std::abs(at_mm_ - mm) > step) {
      at_mm_ += at_mm_ < mm ? step : -step;
      if (Frame()) return true;
    }
    return false;
  }
  bool Stay(double ms) {
    for (double waited = 0; waited < ms; waited += kFrameMs) {
      if (Frame()) return true;
    }
    return false;
  }
  bool Lose(double ms, LostReason why) {
    for (double waited = 0; waited < ms; waited += kFrameMs) {
      DistanceSample sample = Next();
      sample.why = why;
      if (flow_.OnFrame(sample)) return true;
    }
    return false;
  }
  MeasureFlow::Heard Press() { return flow_.OnPress(now()); }
  [[nodiscard]] Time now() const { return FromMilliseconds(now_ms_); }
  [[nodiscard]] double mm() const { return at_mm_; }

  double at_mm_ = 350;

 private:
  DistanceSample Next() {
    now_ms_ += kFrameMs;
    DistanceSample sample;
    sample.frame = ++frame_;
    sample.time = FromMilliseconds(now_ms_);
    return sample;
  }
  bool Frame() {
    DistanceSample sample = Next();
    sample.mode = TrackMode::kFace;
    sample.distance = {Length::Millimeters(at_mm_), Length::Millimeters(0.5)};
    return flow_.OnFrame(sample);
  }

  MeasureFlow& flow_;
  double now_ms_ = 5000;
  std::int64_t frame_ = 0;
};

Profile NoLag() {
  Profile profile;
  profile.lag = Time{};
  return profile;
}

class MeasureFlowTest : public testing::Test {
 protected:
  MeasureFlowTest() { flow_.SetProfile(NoLag(), {}); }

  // From the start line to a press at two_mm and one at one_mm.
  void PerformTrial(double two_mm, double one_mm, double in = 15, double back = 25) {
    person_.Stay(900);
    ASSERT_EQ(phase(), FlowPhase::kApproach);
    person_.MoveTo(two_mm, in);
    ASSERT_EQ(person_.Press(), MeasureFlow::Heard::kTwo);
    person_.MoveTo(two_mm - 8, in);
    person_.MoveTo(one_mm, back);
    ASSERT_EQ(person_.Press(), MeasureFlow::Heard::kOneAgain);
    ASSERT_TRUE(person_.MoveTo(350, back));
    person_.at_mm_ = 350;
  }
  void PerformTrialUnjudged(double two_mm, double one_mm) {
    person_.Stay(900);
    person_.MoveTo(two_mm, 15);
    ASSERT_EQ(person_.Press(), MeasureFlow::Heard::kTwo);
    person_.MoveTo(two_mm - 8, 15);
    person_.MoveTo(one_mm, 25);
    ASSERT_EQ(person_.Press(), MeasureFlow::Heard::kOneAgain);
    person_.MoveTo(350, 25);
  }
  [[nodiscard]] FlowPhase phase() const { return flow_.state().phase; }

  MeasureFlow flow_{FlowRules(), EstimateOptions(), StoppingPlan()};
  Mover person_{flow_};
};

// Without noise and without lag the break is where the key went down.
TEST_F(MeasureFlowTest, ATrialHoldsWhatWasReported) {
  PerformTrial(90, 120);
  const auto trial = flow_.TakeTrial();
  ASSERT_TRUE(trial);
  EXPECT_FALSE(trial->trial.set_aside);
  EXPECT_NEAR(trial->trial.break_point->value.value.mm(), 90, 0.6);
  EXPECT_NEAR(trial->trial.recovery->value.value.mm(), 120, 0.9);
  EXPECT_NEAR(trial->trial.approach_speed->mm_per_s(), 15, 0.2);
  EXPECT_THAT(trial->events, SizeIs(4));
  EXPECT_EQ(phase(), FlowPhase::kRest);
  EXPECT_EQ(flow_.state().counted, 1);
  EXPECT_FALSE(flow_.TakeTrial());
}

// Whoever judges elsewhere comes to the same, however many frames later.
TEST_F(MeasureFlowTest, WaitsForATrialThatOthersJudge) {
  flow_.LetOthersJudge();
  PerformTrialUnjudged(90, 120);
  ASSERT_TRUE(flow_.judging());
  EXPECT_EQ(phase(), FlowPhase::kSettle);
  auto over = flow_.TakeToJudge();
  ASSERT_TRUE(over);
  EXPECT_FALSE(flow_.TakeToJudge());
  person_.Stay(3000);
  EXPECT_EQ(person_.Press(), MeasureFlow::Heard::kNothing);
  EXPECT_EQ(phase(), FlowPhase::kSettle);
  EXPECT_FALSE(flow_.TakeTrial());
  flow_.Judged(JudgeTrial(*std::move(over)));
  EXPECT_EQ(phase(), FlowPhase::kRest);
  EXPECT_FALSE(flow_.judging());
  const auto trial = flow_.TakeTrial();
  ASSERT_TRUE(trial);
  EXPECT_NEAR(trial->trial.break_point->value.value.mm(), 90, 0.6);
  EXPECT_EQ(flow_.state().trial, 2);
}

// The camera is unplugged in that moment: the trial was whole and counts.
TEST_F(MeasureFlowTest, KeepsATrialThatIsJudgedWhileTheSourceBreaksOff) {
  flow_.LetOthersJudge();
  PerformTrialUnjudged(90, 120);
  auto over = flow_.TakeToJudge();
  ASSERT_TRUE(over);
  flow_.Interrupt();
  EXPECT_EQ(phase(), FlowPhase::kFind);
  flow_.Judged(JudgeTrial(*std::move(over)));
  EXPECT_EQ(phase(), FlowPhase::kFind);
  EXPECT_TRUE(flow_.TakeTrial());
  EXPECT_EQ(flow_.trials().size(), 1u);
}

TEST_F(MeasureFlowTest, EndsWhenTheEstimateCanAnswer) {
  int trials = 0;
  while (phase() != FlowPhase::kDone && trials < 12) {
    PerformTrial(150 + trials % 2, 190);
    ++trials;
    ASSERT_TRUE(flow_.TakeTrial());
    if (phase() == FlowPhase::kRest) {
      EXPECT_EQ(person_.Press(), MeasureFlow::Heard::kGoOn);
    }
  }
  EXPECT_EQ(trials, StoppingPlan().least);
  EXPECT_EQ(flow_.advice().advice, Advice::kAnswered);
  EXPECT_EQ(flow_.advice().estimate.answer, Answer::kBeyond);
}

TEST_F(MeasureFlowTest, RestsBetweenTrialsAndEndsTheRestByItself) {
  PerformTrial(90, 120);
  ASSERT_TRUE(flow_.TakeTrial());
  EXPECT_EQ(flow_.state().rest_left, FlowRules().rest_for);
  person_.Stay(4000);
  EXPECT_EQ(phase(), FlowPhase::kRest);
  EXPECT_NEAR(ToMilliseconds(flow_.state().rest_left), 6000, 2 * kFrameMs);
  person_.Stay(6200);
  EXPECT_NE(phase(), FlowPhase::kRest);
}

TEST_F(MeasureFlowTest, WaitsUntilThePersonIsFarEnough) {
  person_.at_mm_ = 220;
  person_.Stay(3000);
  EXPECT_EQ(phase(), FlowPhase::kMoveBack);
  EXPECT_EQ(person_.Press(), MeasureFlow::Heard::kNothing);
  person_.MoveTo(340, 60);
  EXPECT_EQ(phase(), FlowPhase::kReady);
  person_.Stay(900);
  EXPECT_EQ(phase(), FlowPhase::kApproach);
}

// At the line a distance that trembles is no reason to say one thing and the other in turn.
TEST_F(MeasureFlowTest, TheStartLineIsNoHairTrigger) {
  person_.at_mm_ = 298;
  person_.Stay(500);
  EXPECT_EQ(phase(), FlowPhase::kMoveBack);
  int changes = 0;
  FlowPhase last = phase();
  for (int i = 0; i < 30; ++i) {
    person_.at_mm_ = i % 2 == 0 ? 302 : 297;
    person_.Stay(33);
    if (std::exchange(last, phase()) != phase()) ++changes;
  }
  EXPECT_LE(changes, 2);  // ready, and the trial
  EXPECT_EQ(phase(), FlowPhase::kApproach);
}

TEST_F(MeasureFlowTest, SaysWhyNothingIsKnown) {
  person_.Lose(1000, LostReason::kEyesHidden);
  EXPECT_EQ(phase(), FlowPhase::kFind);
  EXPECT_THAT(flow_.state().lost, Optional(Eq(LostReason::kEyesHidden)));
}

TEST_F(MeasureFlowTest, SingleDownToTheNearEndIsABoundAndNoMiss) {
  person_.Stay(900);
  person_.MoveTo(46, 15);
  EXPECT_EQ(phase(), FlowPhase::kAsNear);
  person_.MoveTo(95, 25);
  EXPECT_EQ(phase(), FlowPhase::kSettle);
  ASSERT_TRUE(person_.MoveTo(350, 25));
  const auto trial = flow_.TakeTrial();
  ASSERT_TRUE(trial);
  EXPECT_FALSE(trial->trial.set_aside);
  EXPECT_EQ(trial->trial.censored, Censoring::kBelow);
  // The nearest point of a running median of seven frames: in steps of 0.5 mm in and 0.83 mm out
  // its middle value lies 1 mm beyond the turn, which itself is within a step of 46 (computed).
  EXPECT_NEAR(trial->trial.limit->mm(), 47.25, 0.3);
  EXPECT_TRUE(flow_.state().last_to_the_nose);
}

TEST_F(MeasureFlowTest, TooNearForTheCameraIsTheNearEndToo) {
  person_.Stay(900);
  person_.MoveTo(70, 15);
  person_.Lose(800, LostReason::kTooClose);
  EXPECT_EQ(phase(), FlowPhase::kAsNear);
  EXPECT_EQ(person_.Press(), MeasureFlow::Heard::kTwo);
}

TEST_F(MeasureFlowTest, TurningBackWithoutAKeyIsSetAsideWithItsReason) {
  person_.Stay(900);
  person_.MoveTo(120, 15);
  EXPECT_TRUE(person_.MoveTo(350, 25));
  const auto trial = flow_.TakeTrial();
  ASSERT_TRUE(trial);
  EXPECT_THAT(trial->trial.set_aside, Optional(Eq(SetAside::kNoResponse)));
  EXPECT_THAT(flow_.state().set_aside, Optional(Eq(SetAside::kNoResponse)));
  EXPECT_EQ(flow_.state().counted, 0);
  EXPECT_EQ(flow_.state().trial, 2);
}

TEST_F(MeasureFlowTest, TooFastIsSetAside) {
  PerformTrial(90, 120, 45);
  EXPECT_THAT(flow_.TakeTrial()->trial.set_aside, Optional(Eq(SetAside::kTooFast)));
}

TEST_F(MeasureFlowTest, EyesLostOnTheWayEndTheTrial) {
  person_.Stay(900);
  person_.MoveTo(200, 15);
  EXPECT_TRUE(person_.Lose(6000, LostReason::kHeadTurned));
  EXPECT_THAT(flow_.TakeTrial()->trial.set_aside, Optional(Eq(SetAside::kTrackingLost)));
}

TEST_F(MeasureFlowTest, NoRecoveryIsNoReasonToDropTheBreak) {
  person_.Stay(900);
  person_.MoveTo(90, 15);
  person_.Press();
  EXPECT_FALSE(person_.MoveTo(345, 60));
  EXPECT_TRUE(person_.Stay(4000));
  const auto trial = flow_.TakeTrial();
  ASSERT_TRUE(trial);
  EXPECT_FALSE(trial->trial.set_aside);
  EXPECT_TRUE(trial->trial.break_point);
  EXPECT_FALSE(trial->trial.recovery);
}

TEST_F(MeasureFlowTest, ABouncingKeyIsOnePress) {
  person_.Stay(900);
  person_.MoveTo(90, 15);
  EXPECT_EQ(person_.Press(), MeasureFlow::Heard::kTwo);
  person_.Stay(60);
  EXPECT_EQ(person_.Press(), MeasureFlow::Heard::kNothing);
  EXPECT_EQ(phase(), FlowPhase::kReturn);
}

TEST_F(MeasureFlowTest, AnInterruptionDropsTheRunningTrialAlone) {
  PerformTrial(90, 120);
  ASSERT_TRUE(flow_.TakeTrial());
  person_.Press();
  person_.Stay(900);
  person_.MoveTo(200, 15);
  ASSERT_EQ(phase(), FlowPhase::kApproach);
  flow_.Interrupt();
  EXPECT_THAT(flow_.trials(), SizeIs(1));
  EXPECT_EQ(flow_.state().trial, 2);
  // The next source may have another clock.
  Mover again(flow_);
  again.Stay(1000);
  EXPECT_EQ(phase(), FlowPhase::kApproach);
}

TEST_F(MeasureFlowTest, GoesOnFromEarlierTrials) {
  PerformTrial(90, 120);
  MeasureFlow next(FlowRules(), EstimateOptions(), StoppingPlan(), flow_.trials());
  EXPECT_EQ(next.state().trial, 2);
  EXPECT_EQ(next.state().counted, 1);
  EXPECT_EQ(next.state().phase, FlowPhase::kFind);
}

TEST_F(MeasureFlowTest, TheCompanionKeepsThePaceAndWaits) {
  person_.Stay(800);
  ASSERT_EQ(phase(), FlowPhase::kApproach);
  person_.MoveTo(300, 15);
  EXPECT_NEAR(flow_.state().companion->mm(), 300, 4);
  person_.Stay(5000);
  EXPECT_NEAR(flow_.state().companion->mm(), 280, 1);  // at most 20 mm ahead
  person_.MoveTo(250, 15);
  EXPECT_NEAR(flow_.state().companion->mm(), 230, 4);  // not a jump ahead
}

TEST(PaceMeterTest, TellsTheSpeedAndItsVerdict) {
  const struct {
    double mm_per_s;
    PaceVerdict verdict;
  } cases[] = {{15, PaceVerdict::kGood},   {10, PaceVerdict::kGood},
               {20, PaceVerdict::kGood},   {40, PaceVerdict::kTooFast},
               {1, PaceVerdict::kTooSlow}, {-12, PaceVerdict::kWrongWay}};
  for (const auto& [mm_per_s, verdict] : cases) {
    for (const bool toward : {true, false}) {
      PaceMeter meter{PaceRules()};
      Pace pace;
      for (int i = 0; i < 60; ++i) {
        DistanceSample sample;
        sample.time = FromMilliseconds(i * kFrameMs);
        const double moved = mm_per_s * ToSeconds(sample.time) * (toward ? -1 : 1);
        sample.distance = {Length::Millimeters(250 + moved), Length::Millimeters(1)};
        pace = meter.Add(sample, toward);
      }
      ASSERT_TRUE(pace.speed);
      EXPECT_NEAR(pace.speed->mm_per_s(), mm_per_s, 0.01);
      EXPECT_EQ(pace.verdict, verdict) << mm_per_s << (toward ? " in" : " out");
    }
  }
}

// Whatever a hand does: what is said of the pace flashes at most three times in any second (WCAG
// 2.3.1: a flash is a change and the change back).
TEST(PaceMeterTest, NeverFlashes) {
  std::mt19937 random(3);  // NOLINT(cert-msc32-c,cert-msc51-cpp): the same hands each time
  for (const double restless : {5.0, 20.0, 60.0}) {
    PaceMeter meter{PaceRules()};
    std::normal_distribution<double> jerk(0, restless);
    double mm = 300;
    double speed = 15;
    std::vector<Time> changes;
    PaceVerdict last = PaceVerdict::kUnknown;
    for (int i = 0; i < 3000; ++i) {
      speed = 0.8 * speed + 0.2 * 15 + jerk(random);
      mm -= speed / 30;
      DistanceSample sample;
      sample.time = FromMilliseconds(i * kFrameMs);
      if (i % 50 < 45) sample.distance = {Length::Millimeters(mm), Length::Millimeters(1)};
      const PaceVerdict said = meter.Add(sample, true).verdict;
      if (std::exchange(last, said) != said) changes.push_back(sample.time);
    }
    constexpr std::size_t kThreeFlashes = 6;
    ASSERT_GT(changes.size(), kThreeFlashes) << restless;  // hands that do make it change
    for (std::size_t k = kThreeFlashes; k < changes.size(); ++k) {
      EXPECT_GT(changes[k] - changes[k - kThreeFlashes], std::chrono::seconds(1)) << restless;
    }
  }
}

}  // namespace
}  // namespace nearpoint
