#include "app/exercise/tiredness.h"

#include <gtest/gtest.h>

#include <random>

#include "app/exercise/summary.h"
#include "tests/support/exercise_patient.h"

namespace nearpoint {
namespace {

Length Mm(double mm) { return Length::Millimeters(mm); }

Attempt Tried(int number, double reach_mm, std::optional<NotCounted> why = std::nullopt) {
  Attempt a;
  a.number = number;
  a.separation = Mm(120);
  a.asked = Mm(150);
  a.reach = UncertainLength{Mm(reach_mm), Mm(6)};
  a.reach_shared_sd = Mm(5);
  a.held_s = why ? 1 : 5;
  a.fusing_s = number;
  a.why = why;
  return a;
}

TEST(Tiredness, ALineThatRecedes) {
  std::vector<Attempt> attempts;
  for (int i = 1; i <= 10; ++i) attempts.push_back(Tried(i, 150 + 5 * i + (i % 2 == 0 ? 2 : -2)));
  const Tiredness t = FindTiredness(attempts);
  EXPECT_EQ(t.attempts, 10);
  EXPECT_TRUE(t.tired);
  EXPECT_NEAR(t.trend_mm->value.value(), 5, 0.5);
  EXPECT_GT(t.trend_mm->low, 0);
  EXPECT_FALSE(t.failing);
}

TEST(Tiredness, SmallOrFewIsNotCalled) {
  std::vector<Attempt> attempts;
  for (int i = 1; i <= 10; ++i) attempts.push_back(Tried(i, 150 + 0.5 * i));
  EXPECT_FALSE(FindTiredness(attempts).tired);  // 3 % in all
  attempts.clear();
  for (int i = 1; i <= 4; ++i) attempts.push_back(Tried(i, 150 + 20 * i));
  EXPECT_FALSE(FindTiredness(attempts).tired);
  EXPECT_FALSE(FindTiredness({}).tired);
  EXPECT_EQ(FindTiredness({}).attempts, 0);
}

TEST(Tiredness, AHandWithoutEyesIsNoReach) {
  std::vector<Attempt> attempts;
  for (int i = 1; i <= 6; ++i) attempts.push_back(Tried(i, 150));
  for (int i = 7; i <= 12; ++i) attempts.push_back(Tried(i, 480, NotCounted::kOnlyHandMoved));
  const Tiredness t = FindTiredness(attempts);
  EXPECT_EQ(t.attempts, 6);
  EXPECT_FALSE(t.tired);
  EXPECT_NEAR(t.reach_mm->value.value(), 150, 1e-6);
}

TEST(Tiredness, ThreeFailuresInARowAfterASuccess) {
  std::vector<Attempt> attempts = {Tried(1, 150), Tried(2, 160, NotCounted::kNotHeld),
                                   Tried(3, 170, NotCounted::kNotFarEnough),
                                   Tried(4, 170, NotCounted::kNotHeld)};
  EXPECT_TRUE(FindTiredness(attempts).failing);
  attempts[0].why = NotCounted::kNotHeld;
  EXPECT_FALSE(FindTiredness(attempts).failing);  // it was never reached: too hard, not tired
  attempts[0].why.reset();
  attempts[3].why = NotCounted::kNotReported;
  EXPECT_FALSE(FindTiredness(attempts).failing);
}

// Fresh eyes are seldom called tired, and tiring ones mostly are.
TEST(Tiredness, FalseAlarmsAndMisses) {
  int false_alarms = 0;
  int found = 0;
  constexpr int kSessions = 60;
  std::mt19937_64 random(5);
  std::normal_distribution<double> scatter(0, 8);
  for (int s = 0; s < kSessions; ++s) {
    std::vector<Attempt> fresh;
    std::vector<Attempt> tired;
    for (int i = 1; i <= 10; ++i) {
      const double noise = scatter(random);
      fresh.push_back(Tried(i, 150 + noise));
      tired.push_back(Tried(i, 150 + 5 * i + noise));
    }
    false_alarms += FindTiredness(fresh).tired ? 1 : 0;
    found += FindTiredness(tired).tired ? 1 : 0;
  }
  EXPECT_LE(false_alarms, 3);  // 2.5 % by the band alone
  EXPECT_GE(found, 54);
}

TEST(Summary, Numbers) {
  const PairView view{{Mm(60), Mm(1.5)}, {Mm(513.5), Mm(5)}};
  std::vector<Attempt> attempts = {Tried(1, 150), Tried(2, 150),
                                   Tried(3, 170, NotCounted::kNotHeld), Tried(4, 152)};
  attempts[1].separation = Mm(160);
  attempts[1].asked = Mm(126.5454545454545);
  const ExerciseSummary s = Summarise(attempts, 10, view);
  EXPECT_EQ(s.asked, 10);
  EXPECT_EQ(s.counted, 3);
  EXPECT_EQ(s.attempts, 4);
  EXPECT_DOUBLE_EQ(s.held_s, 15);
  EXPECT_DOUBLE_EQ(s.fusing_s.value(), 2);
  EXPECT_EQ(s.reasons.at(NotCounted::kNotHeld), 1);
  // 60 * 513.5 / 220 = 140.05 less 13.5; dd/dp = 513.5 * 160 / 220^2, dd/dD = 60 / 220 (computed).
  EXPECT_NEAR(s.reach->value.mm(), 126.545, 1e-3);
  EXPECT_NEAR(s.reach->sd.mm(), std::hypot(1.5 * 1.6975, 5 * 0.27273), 1e-2);
  const ExerciseSummary none = Summarise({}, 10, view);
  EXPECT_EQ(none.counted, 0);
  EXPECT_FALSE(none.reach);
  EXPECT_FALSE(none.fusing_s);
}

// Eyes that come 8 % shorter with each repetition from the fourth on.
TEST(Tiredness, SeenThroughTheCounter) {
  testing::ExercisePatient p;
  p.separation_mm = 150;
  p.tires_from = 4;
  int called = 0;
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    testing::Exerciser exerciser(p, seed);
    CounterSetup setup = SetupOf(p);
    setup.repetitions = 1000;
    RepetitionCounter counter(setup);
    Exercise(exerciser, counter, 150);
    const Tiredness t = FindTiredness(counter.attempts());
    called += t.tired || t.failing ? 1 : 0;
  }
  EXPECT_GE(called, 3);
}

}  // namespace
}  // namespace nearpoint
