// The reaction task, with a clock of the test's own.
#include "app/window/pages/lag_page.h"

#include <gmock/gmock.h>

#include <QLabel>

#include "calibration/lag_task.h"
#include "calibration/pipeline_delay.h"
#include "calibration/profile_json.h"
#include "tests/app/window/home_fixture.h"

namespace nearpoint {
namespace {

class LagPageTest : public testing::Test {
 protected:
  LagPageTest() {
    Person person;
    person.name = "Mira";
    Choose(home_.context(), home_.store().AddPerson(person).value());
    page_ = std::make_unique<LagPage>(home_.context(), nullptr, [this] { return now_ms_; });
  }
  // The picture becomes two now, without waiting for the timer, and the key goes down later.
  void PressAfter(double ms) {
    page_->Show();
    now_ms_ += ms;
    page_->TakePress();
    now_ms_ += 2000;
  }

  Home home_;
  double now_ms_ = 100000;
  std::unique_ptr<LagPage> page_;
};

// lag = reaction - display delay + judgement - capture delay, with the bounds of 60 and 30 a
// second.
TEST_F(LagPageTest, MeasuresAndKeepsTheLag) {
  page_->Begin();
  EXPECT_TRUE(page_->TakesEveryPress());
  for (int i = 0; i < kLagPresses; ++i) PressAfter(300 + 10 * (i % 3));
  EXPECT_FALSE(page_->TakesEveryPress());
  const auto stored = home_.store().LatestCalibration(home_.context().person->id);
  ASSERT_TRUE(stored && *stored);
  const auto profile = ParseProfile((*stored)->profile_json, "stored");
  ASSERT_TRUE(profile);
  std::vector<LagPress> presses;
  double shown = 0;
  for (int i = 0; i < kLagPresses; ++i) {
    presses.push_back({FromMilliseconds(shown), FromMilliseconds(shown + 300 + 10 * (i % 3))});
    shown += 3000;
  }
  const auto expected = EvaluateLag(presses, BoundPipelineDelay(60, 30).value());
  ASSERT_TRUE(expected);
  EXPECT_NEAR(ToMilliseconds(profile->lag), ToMilliseconds(expected->lag), 1);
  // How late the machine is itself stands on the page and in the profile, and is in the deviation.
  const auto delay = BoundPipelineDelay(60, 30).value();
  EXPECT_THAT(profile->made.lag->method, testing::HasSubstr(StatementInShort(delay)));
  bool said = false;
  for (const QLabel* label : page_->findChildren<QLabel*>()) {
    said = said || label->text().contains("37 ± 16");
  }
  EXPECT_TRUE(said);
  EXPECT_NEAR(ToMilliseconds(profile->lag_sd), ToMilliseconds(expected->lag_sd), 1);
  // A lag alone calibrates no camera.
  Choose(home_.context(), *home_.context().person);
  EXPECT_FALSE(home_.context().calibrated);
  EXPECT_NEAR(ToMilliseconds(home_.context().profile.lag), ToMilliseconds(expected->lag), 1);
}

// Whoever practises with the simulated person at the computer of the family changes nobody's
// profile.
TEST_F(LagPageTest, PracticeStoresNothingAndChangesNobody) {
  const Profile before = home_.context().profile;
  home_.context().practice = true;
  page_->Begin();
  for (int i = 0; i < kLagPresses; ++i) PressAfter(300 + 10 * (i % 3));
  EXPECT_FALSE(page_->TakesEveryPress());
  const auto stored = home_.store().LatestCalibration(home_.context().person->id);
  ASSERT_TRUE(stored);
  EXPECT_FALSE(*stored);
  EXPECT_EQ(SerializeProfile(home_.context().profile), SerializeProfile(before));
  bool said = false;
  for (const QLabel* label : page_->findChildren<QLabel*>()) {
    said = said || label->text().contains("nothing of it is stored");
  }
  EXPECT_TRUE(said);
}

TEST_F(LagPageTest, APressBeforeTwoIsNotCounted) {
  page_->Begin();
  page_->TakePress();
  page_->TakePress();
  for (int i = 0; i < kLagPresses - 1; ++i) PressAfter(310);
  EXPECT_TRUE(page_->TakesEveryPress());
  PressAfter(310);
  EXPECT_FALSE(page_->TakesEveryPress());
}

// As in the terminal: a mark that nobody answers is one of the ten.
TEST_F(LagPageTest, AMarkThatNobodyAnswersIsMissed) {
  page_->Begin();
  page_->Show();
  page_->Miss();
  now_ms_ += 3000;
  for (int i = 0; i < kLagPresses - 2; ++i) PressAfter(310);
  EXPECT_TRUE(page_->TakesEveryPress());
  PressAfter(310);
  EXPECT_FALSE(page_->TakesEveryPress());
}

TEST_F(LagPageTest, KeepsNothingOfGuesses) {
  page_->Begin();
  for (int i = 0; i < kLagPresses; ++i) PressAfter(20);
  const auto stored = home_.store().LatestCalibration(home_.context().person->id);
  ASSERT_TRUE(stored);
  EXPECT_FALSE(*stored);
}

}  // namespace
}  // namespace nearpoint
