#include "app/exercise/plan.h"

#include <gtest/gtest.h>

namespace nearpoint {
namespace {

// Common practice, no source: about 10 repetitions, the end point held 5 s, in the morning.
TEST(Plan, CommonPractice) {
  const ExercisePlan plan = CommonPracticePlan();
  EXPECT_EQ(plan.source, PlanSource::kCommonPractice);
  EXPECT_EQ(plan.repetitions, 10);
  EXPECT_EQ(plan.hold_s, 5);
  EXPECT_TRUE(plan.mornings);
  for (std::size_t i = 1; i < plan.levels.size(); ++i) {
    EXPECT_LT(plan.levels[i], plan.levels[i - 1]);
  }
}

TEST(Plan, NextLevelStepsAfterTwoAlike) {
  ExercisePlan plan = CommonPracticePlan();
  plan.first_level = 2;
  EXPECT_EQ(NextLevel(plan, {}, 5), 2);
  EXPECT_EQ(NextLevel(plan, {{2, 10, 10}}, 5), 2);
  EXPECT_EQ(NextLevel(plan, {{2, 10, 10}, {2, 10, 10}}, 5), 3);
  EXPECT_EQ(NextLevel(plan, {{2, 10, 10}, {3, 10, 10}}, 5), 3);  // one on the new level
  EXPECT_EQ(NextLevel(plan, {{3, 4, 10}, {3, 4, 10}}, 5), 2);
  EXPECT_EQ(NextLevel(plan, {{3, 4, 10}, {3, 5, 10}}, 5), 3);  // half is not less than half
  EXPECT_EQ(NextLevel(plan, {{3, 9, 10}, {3, 10, 10}}, 5), 3);
}

TEST(Plan, NextLevelStaysWithinWhatThereIs) {
  const ExercisePlan plan = CommonPracticePlan();
  EXPECT_EQ(NextLevel(plan, {{5, 10, 10}, {5, 10, 10}}, 5), 5);
  EXPECT_EQ(NextLevel(plan, {{1, 0, 10}, {1, 0, 10}}, 5), 1);
  EXPECT_EQ(NextLevel(plan, {{9, 10, 10}}, 4), 4);  // a smaller screen than last time
}

}  // namespace
}  // namespace nearpoint
