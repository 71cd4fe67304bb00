#include "app/exercise/plan.h"

#include <gtest/gtest.h>

namespace nearpoint {
namespace {

// Five days a week: CITT, Arch Ophthalmol 2005 and 2008. Ten times with a count of three: a
// clinic's handout on physiological diplopia. Nothing published speaks for the morning.
TEST(Plan, WithoutAClinicianItsNumbersArePublishedOnes) {
  const ExercisePlan plan = CommonPracticePlan();
  EXPECT_EQ(plan.source, PlanSource::kCommonPractice);
  EXPECT_EQ(plan.repetitions, 10);
  EXPECT_EQ(plan.hold_s, 3);
  EXPECT_EQ(plan.days_per_week, 5);
  EXPECT_FALSE(plan.mornings);
  for (std::size_t i = 1; i < plan.levels.size(); ++i) {
    EXPECT_LT(plan.levels[i], plan.levels[i - 1]);
  }
}

TEST(Plan, NamesTheDistancesThatLieNearerThanTheBreak) {
  const auto mm = [](double value) { return Length::Millimeters(value); };
  ExercisePlan plan = CommonPracticePlan();
  plan.levels = {mm(200), mm(120), mm(92), mm(80)};
  EXPECT_EQ(NearerThanBreak(plan, mm(92)), std::vector{mm(80)});
  EXPECT_EQ(NearerThanBreak(plan, mm(150)), (std::vector{mm(120), mm(92), mm(80)}));
  EXPECT_TRUE(NearerThanBreak(plan, mm(60)).empty());
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
