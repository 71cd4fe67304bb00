#include "app/event/yield.h"

#include <gtest/gtest.h>

#include <cmath>

namespace nearpoint {
namespace {

SchoolOptions Small() {
  SchoolOptions options;
  options.simulated = 300;
  return options;
}

TEST(YieldTest, TheShareBeyondIsThePublishedOneAndTheNumbersAddUp) {
  const auto yield = ExpectedYield(EventRule(), *FindEquipment("camera").value(), Small());
  ASSERT_TRUE(yield);
  EXPECT_NEAR(yield->beyond, 30, 1);  // 15 % of 200
  EXPECT_LE(yield->referred_wrong, yield->referred);
  EXPECT_LE(yield->again_beyond, yield->again);
  // Who is beyond is sent on, measured again, or missed.
  EXPECT_NEAR(yield->referred - yield->referred_wrong + yield->again_beyond + yield->missed,
              yield->beyond, 1e-9);
  EXPECT_GE(yield->trials, 2);
  EXPECT_LE(yield->trials, 3);
}

// Without any error every child is told right; the rule then decides at the limit itself.
TEST(YieldTest, AnExactSetUpMissesFewerThanAWideOne) {
  Equipment exact = *FindEquipment("card").value();
  exact.shared = {};
  Equipment wide = exact;
  wide.shared.relative_sd = 0.3;
  const auto fine = ExpectedYield(EventRule(), exact, Small());
  const auto rough = ExpectedYield(EventRule(), wide, Small());
  EXPECT_LT(fine->missed + fine->referred_wrong, rough->missed + rough->referred_wrong + 2);
  EXPECT_LT(fine->again, rough->again + rough->missed);
}

TEST(YieldTest, AStricterRuleSendsFewerOn) {
  EventRule strict;
  strict.refer_from = 0.975;
  EventRule open;
  open.refer_from = 0.5;
  const Equipment& equipment = *FindEquipment("camera").value();
  const auto few = ExpectedYield(strict, equipment, Small());
  const auto many = ExpectedYield(open, equipment, Small());
  EXPECT_LT(few->referred, many->referred);
  EXPECT_LE(few->referred_wrong, many->referred_wrong);
  EXPECT_EQ(many->again, 0);
}

TEST(YieldTest, TheSameSeedGivesTheSame) {
  const Equipment& equipment = *FindEquipment("webcam").value();
  const auto one = ExpectedYield(EventRule(), equipment, Small());
  const auto two = ExpectedYield(EventRule(), equipment, Small());
  EXPECT_EQ(one->referred, two->referred);
  EXPECT_EQ(one->missed, two->missed);
}

TEST(YieldTest, RefusesWhatCannotBe) {
  SchoolOptions options;
  options.beyond_share = 0;
  const Equipment& equipment = *FindEquipment("webcam").value();
  EXPECT_FALSE(ExpectedYield(EventRule(), equipment, options));
  EventRule rule;
  rule.repeat_from = 0.9;
  EXPECT_FALSE(ExpectedYield(rule, equipment));
  EXPECT_FALSE(FindEquipment("magic"));
}

}  // namespace
}  // namespace nearpoint
