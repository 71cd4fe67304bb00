#include "app/measure/what_if.h"

#include <gtest/gtest.h>

#include <vector>

namespace nearpoint {
namespace {

Trial Doubled(int number, double break_mm) {
  Trial trial;
  trial.number = number;
  trial.break_point.emplace().value.value = Length::Millimeters(break_mm);
  return trial;
}

Trial Aside(Trial trial, SetAside reason, std::string words = "") {
  trial.set_aside = reason;
  trial.set_aside_words = std::move(words);
  return trial;
}

TEST(WhatIf, NothingSetAsideHasNoEffect) {
  EXPECT_TRUE(EffectOfRules(std::vector{Doubled(1, 80), Doubled(2, 84)}, {}).empty());
}

TEST(WhatIf, EachRuleStandsForItself) {
  Trial lost;
  lost.number = 4;
  const std::vector<Trial> trials = {
      Doubled(1, 80),
      Aside(Doubled(2, 40), SetAside::kTooFast),
      Doubled(3, 84),
      Aside(lost, SetAside::kTrackingLost),
      Aside(Doubled(5, 44), SetAside::kTooFast),
      Aside(Doubled(6, 130), SetAside::kByHand, "the child laughed")};
  const auto effects = EffectOfRules(trials, {});
  ASSERT_EQ(effects.size(), 3u);
  EXPECT_EQ(effects[0].reason, ToText(SetAside::kTooFast));
  EXPECT_EQ(effects[0].trials, (std::vector{2, 5}));
  EXPECT_TRUE(effects[0].no_value.empty());
  ASSERT_TRUE(effects[0].without_rule);
  EXPECT_EQ(effects[0].without_rule->trials_used, 4);
  EXPECT_NEAR(*effects[0].without_rule->break_mm->value, 62, 1);  // mean of 80, 40, 84, 44
  // No rule could let a trial without a distance count.
  EXPECT_EQ(effects[1].no_value, std::vector{4});
  EXPECT_FALSE(effects[1].without_rule);
  EXPECT_EQ(effects[2].reason, "the child laughed");
  EXPECT_EQ(effects[2].without_rule->trials_used, 3);
}

TEST(WhatIf, IsTheEstimateThatCountsThem) {
  std::vector<Trial> trials = {Doubled(1, 80), Doubled(2, 84),
                               Aside(Doubled(3, 50), SetAside::kNotLooking)};
  SharedCalibration shared;
  shared.relative_sd = 0.03;
  const Estimate without = *EffectOfRules(trials, shared)[0].without_rule;
  trials[2].set_aside.reset();
  const Estimate direct = EstimateNearPoint(trials, shared);
  EXPECT_EQ(without.break_mm->low, direct.break_mm->low);
  EXPECT_EQ(without.break_mm->high, direct.break_mm->high);
  EXPECT_EQ(without.answer, direct.answer);
}

TEST(WhatIf, TheWordsOfARuleAreReadBack) {
  for (const SetAside reason :
       {SetAside::kTooFast, SetAside::kTrackingLost, SetAside::kNoApproach,
        SetAside::kResponseEarly, SetAside::kNoResponse, SetAside::kNotLooking,
        SetAside::kOneEyeCovered, SetAside::kByHand}) {
    EXPECT_EQ(ParseSetAside(ToText(reason)), reason);
  }
  EXPECT_FALSE(ParseSetAside("bad light"));
}

}  // namespace
}  // namespace nearpoint
