// One reaction task for window and terminal.
#include "app/guide/reaction_task.h"

#include <gmock/gmock.h>

namespace nearpoint {
namespace {

constexpr Time kReaction = FromMilliseconds(310);

TEST(ReactionTask, IsOverAfterTenMarks) {
  ReactionTask task(1);
  Time now{};
  for (int mark = 0; mark < kLagPresses; ++mark) {
    ASSERT_FALSE(task.done());
    now += task.wait();
    task.Shown(now);
    EXPECT_TRUE(task.OnPress(now += kReaction));
    EXPECT_FALSE(task.shown());
  }
  EXPECT_TRUE(task.done());
  ASSERT_EQ(task.presses().size(), static_cast<std::size_t>(kLagPresses));
  for (const LagPress& press : task.presses()) EXPECT_EQ(*press.pressed - press.shown, kReaction);
}

TEST(ReactionTask, APressBeforeTheMarkTakesNoneOfThemAndTheWaitBeginsAnew) {
  ReactionTask task(1);
  const Time wait = task.wait();
  EXPECT_FALSE(task.OnPress(FromMilliseconds(100)));
  EXPECT_EQ(task.marks(), 0);
  EXPECT_NE(task.wait(), wait);
  // Whoever hammers is not kept for ever.
  for (int i = 1; i < ReactionTask::kMostWaits; ++i) {
    EXPECT_FALSE(task.done());
    EXPECT_FALSE(task.OnPress(FromMilliseconds(100.0 * i)));
  }
  EXPECT_TRUE(task.done());
}

TEST(ReactionTask, AMarkThatNobodyAnswersIsMissed) {
  ReactionTask task(1);
  task.Missed();  // nothing was shown
  EXPECT_EQ(task.marks(), 0);
  task.Shown(FromMilliseconds(2000));
  EXPECT_TRUE(task.shown());
  task.Missed();
  ASSERT_EQ(task.marks(), 1);
  EXPECT_FALSE(task.presses()[0].pressed);
}

}  // namespace
}  // namespace nearpoint
