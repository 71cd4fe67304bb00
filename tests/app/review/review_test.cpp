#include "app/review/review.h"

#include <gmock/gmock.h>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

std::vector<Trial> Trials() {
  std::vector<Trial> trials(3);
  for (int i = 0; i < 3; ++i) {
    trials[static_cast<std::size_t>(i)].number = i + 1;
    trials[static_cast<std::size_t>(i)].break_point.emplace().value.value =
        Length::Millimeters(90 + i);
  }
  trials[1].set_aside = SetAside::kTooFast;
  trials[2].set_aside = SetAside::kTrackingLost;
  trials[2].break_point.reset();
  return trials;
}

AuditEntry Entry(ReviewAct act, std::optional<int> trial = {}) {
  return {"2026-03-02T09:00:00Z", "Dr. Ade", act, trial, "why"};
}

TEST(ReviewTest, TheLastWordOnATrialCounts) {
  const auto reviewed = ApplyReview(
      Trials(),
      {Entry(ReviewAct::kSetAside, 1), Entry(ReviewAct::kCount, 2), Entry(ReviewAct::kNote)});
  ASSERT_THAT(reviewed, IsOk());
  EXPECT_EQ(reviewed->trials[0].set_aside, SetAside::kByHand);
  EXPECT_EQ(SetAsideText(reviewed->trials[0]), "why");
  EXPECT_FALSE(reviewed->trials[1].set_aside);
  EXPECT_EQ(reviewed->trials[2].set_aside, SetAside::kTrackingLost);
  const auto back =
      ApplyReview(Trials(), {Entry(ReviewAct::kSetAside, 1), Entry(ReviewAct::kCount, 1)});
  EXPECT_FALSE(back->trials[0].set_aside);
  EXPECT_EQ(SetAsideText(back->trials[0]), "");
}

TEST(ReviewTest, AChangeAfterAcceptingOpensItAgain) {
  EXPECT_FALSE(ApplyReview(Trials(), {})->accepted);
  EXPECT_TRUE(ApplyReview(Trials(), {Entry(ReviewAct::kAccept)})->accepted);
  EXPECT_TRUE(
      ApplyReview(Trials(), {Entry(ReviewAct::kAccept), Entry(ReviewAct::kNote)})->accepted);
  EXPECT_FALSE(
      ApplyReview(Trials(), {Entry(ReviewAct::kAccept), Entry(ReviewAct::kSetAside, 1)})->accepted);
}

TEST(ReviewTest, RefusesWhatCannotBe) {
  EXPECT_THAT(ApplyReview(Trials(), {Entry(ReviewAct::kSetAside, 7)}),
              FailsWith(ErrorCode::kNotFound, HasSubstr("trial 7")));
  EXPECT_THAT(ApplyReview(Trials(), {Entry(ReviewAct::kCount, 3)}),
              FailsWith(ErrorCode::kBadValue, HasSubstr("no distance")));
}

}  // namespace
}  // namespace nearpoint
