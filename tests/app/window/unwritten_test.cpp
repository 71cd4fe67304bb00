// What the store does not take is said, kept, and tried again; what goes on later counts as one.
#include <gmock/gmock.h>

#include <QLabel>
#include <nlohmann/json.hpp>

#include "app/window/keep_calibration.h"
#include "app/window/pending_writes.h"
#include "app/window/session_keeper.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/stored_session.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

class UnwrittenTest : public ::testing::Test {
 protected:
  UnwrittenTest() {
    Person person;
    person.name = "Mira";
    person_ = home_.store().AddPerson(person).value().id;
    home_.Open();
    facts_.profile = DefaultProfile();
  }
  MainWindow& window() { return home_.window(); }
  AppContext& context() { return home_.context(); }
  // As a full disk would.
  void Refuse(const char* table) {
    ASSERT_THAT(home_.store().database().Run(
                    QString("CREATE TRIGGER full_%1 BEFORE INSERT ON %1 BEGIN SELECT RAISE(ABORT, "
                            "'database or disk is full'); END")
                        .arg(table)),
                IsOk());
  }
  void Take(const char* table) {
    ASSERT_THAT(home_.store().database().Run(QString("DROP TRIGGER full_%1").arg(table)), IsOk());
  }
  // A trial that ended, with that many frames; both eyes and report told the same.
  FlowTrial Trial(int number, int frames) {
    const StoredTrial computed = ComputedTrial(number, 92, 121);
    FlowTrial trial;
    trial.trial = computed.trial;
    trial.events = computed.events;
    trial.eyes.agreement.trial = number;
    trial.eyes.agreement.agreement = Agreement::kBothBroke;
    for (int i = 0; i < frames; ++i) {
      DistanceSample sample;
      sample.frame = i;
      sample.time = FromMilliseconds(40.0 * i);
      trial.samples.push_back(sample);
    }
    return trial;
  }
  Result<void> Keep(SessionKeeper& keeper, const FlowTrial& trial) {
    std::vector<nearpoint::Trial> all = keeper.earlier();
    kept_.push_back(trial.trial);
    all.insert(all.end(), kept_.begin(), kept_.end());
    const MeasureFlow flow(FlowRules(), keeper.options(), keeper.plan(), all);
    for (const DistanceSample& sample : trial.samples) keeper.AddFrame(sample);
    return keeper.Keep(trial, flow, facts_);
  }
  QString Said() {
    const auto* label = window().findChild<QLabel*>("unwritten");
    return label->isVisible() ? label->text() : QString();
  }
  std::vector<HomeSession> Sessions() { return home_.store().Sessions(person_).value(); }

  Home home_;
  RowId person_ = 0;
  LiveFacts facts_;
  std::vector<nearpoint::Trial> kept_;
};

TEST_F(UnwrittenTest, ATrialThatTheStoreRefusesIsSaidKeptAndTriedAgain) {
  SessionKeeper keeper(context());
  Refuse("trial");
  EXPECT_FALSE(Keep(keeper, Trial(1, 50)));
  EXPECT_FALSE(Keep(keeper, Trial(2, 60)));
  HandleEvents();
  EXPECT_TRUE(Said().contains("2 things could not be written down")) << Said().toStdString();
  EXPECT_EQ(keeper.WayOut(), PageId::kComfort);
  // The page is gone, and how the eyes feel was said; nothing is there yet.
  window().Show(PageId::kComfort);
  HandleEvents();
  ASSERT_TRUE(Choose(window(), "tired"));
  EXPECT_EQ(window().shown(), PageId::kResult);
  EXPECT_TRUE(Said().contains("3 things"));
  EXPECT_EQ(Sessions().at(0).trials, 0);
  Take("trial");
  QPushButton* const again = window().findChild<QPushButton*>("write_again");
  ASSERT_TRUE(again->isVisible());
  again->click();
  EXPECT_EQ(Said(), QString());
  ASSERT_THAT(Sessions(), SizeIs(1));
  EXPECT_EQ(Sessions()[0].trials, 2);
  EXPECT_EQ(Sessions()[0].comfort, "tired");
  EXPECT_EQ(context().session, Sessions()[0].id);
}

TEST_F(UnwrittenTest, ASessionThatCannotBeBegunIsBegunLater) {
  SessionKeeper keeper(context());
  Refuse("session");
  EXPECT_FALSE(Keep(keeper, Trial(1, 50)));
  EXPECT_EQ(context().session, 0);
  window().Show(PageId::kResult);
  HandleEvents();
  bool said = false;
  for (const QLabel* label : window().page()->findChildren<QLabel*>()) {
    said = said || label->text().contains("not written down yet");
  }
  EXPECT_TRUE(said);
  Take("session");
  EXPECT_THAT(context().pending->TryAgain(), IsOk());
  ASSERT_THAT(Sessions(), SizeIs(1));
  EXPECT_EQ(Sessions()[0].trials, 1);
  EXPECT_EQ(context().session, Sessions()[0].id);
}

TEST_F(UnwrittenTest, TheWindowIsNotClosedInSilence) {
  SessionKeeper keeper(context());
  Refuse("trial");
  EXPECT_FALSE(Keep(keeper, Trial(1, 50)));
  EXPECT_FALSE(window().close());
  EXPECT_TRUE(Said().contains("Close the window again"));
  EXPECT_TRUE(window().isVisible());
  Take("trial");
  EXPECT_TRUE(window().close());
  EXPECT_EQ(Sessions().at(0).trials, 1);
}

TEST_F(UnwrittenTest, AnswersThatAreNotWrittenCountAllTheSame) {
  Refuse("safety_answer");
  window().Show(PageId::kMeasure);
  HandleEvents();
  for (int i = 0; i < 10 && !AskedNow(window()).isEmpty(); ++i) {
    ASSERT_TRUE(Choose(window(), AskedNow(window()) == "pain" ? "yes" : "no"));
  }
  EXPECT_FALSE(Said().isEmpty());
  window().Show(PageId::kHome);
  EXPECT_NE(window().page()->findChild<QLabel*>("stopped"), nullptr);
}

TEST_F(UnwrittenTest, ASessionThatGoesOnCountsAllItsFramesAndTrials) {
  {
    SessionKeeper keeper(context());
    ASSERT_THAT(Keep(keeper, Trial(1, 50)), IsOk());
  }
  const RowId id = context().session;
  kept_.clear();
  facts_.missing = 3;
  SessionKeeper again(context());
  ASSERT_THAT(again.earlier(), SizeIs(1));
  ASSERT_THAT(Keep(again, Trial(2, 60)), IsOk());
  EXPECT_EQ(context().session, id);
  const auto json = nlohmann::json::parse(home_.store().FindSession(id).value().session_json);
  EXPECT_EQ(json["frames"]["seen"], 110);
  EXPECT_EQ(json["frames"]["without_distance"], 110);
  EXPECT_EQ(json["frames"]["missing"], 3);
  EXPECT_THAT(json["agreement"]["sentences"].get<std::vector<std::string>>(),
              Contains(HasSubstr("agree in 2 of 2 trials")));
}

TEST_F(UnwrittenTest, ACalibrationIsKeptToo) {
  Refuse("calibration");
  EXPECT_FALSE(KeepCalibration(context(), DefaultProfile()));
  EXPECT_FALSE(Said().isEmpty());
  Take("calibration");
  EXPECT_THAT(context().pending->TryAgain(), IsOk());
  EXPECT_TRUE(home_.store().LatestCalibration(person_).value());
}

TEST_F(UnwrittenTest, OnlyRoundsThatCountAreCalledSafe) {
  StoredTrial aside = ComputedTrial(2, 95, 124);
  aside.trial.set_aside = SetAside::kTooFast;
  ASSERT_NE(AddSession(home_.store(), person_, {ComputedTrial(1, 92, 121), aside}), 0);
  window().Show(PageId::kHome);
  EXPECT_EQ(window().page()->findChild<QPushButton*>("go_on")->accessibleDescription(),
            "1 round that counts is safe and need not be repeated.");
}

}  // namespace
}  // namespace nearpoint
