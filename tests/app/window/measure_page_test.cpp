// The whole measurement in the window, on the simulated person, by keyboard.
#include "app/window/pages/measure_page.h"

#include <gmock/gmock.h>

#include <QLabel>
#include <QPushButton>
#include <atomic>
#include <memory>

#include "app/records/trial_json.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"
#include "tests/app/window/unpluggable.h"

namespace nearpoint {
namespace {

using testing::Ge;
using testing::HasSubstr;
using testing::SizeIs;

PracticeOptions QuickPractice() {
  PracticeOptions options = Quickly(FastPractice());
  options.presses = false;
  options.patient.optics.camera = simulate::PinholeCamera(800, 450, Angle::Degrees(65));
  return options;
}

const MeasurePage& PageOf(const MainWindow& window) {
  return static_cast<const MeasurePage&>(*window.page());
}

class MeasurePageTest : public testing::Test {
 protected:
  MeasurePageTest() {
    Person person;
    person.name = "Mira";
    person.birth_year = 1990;
    EXPECT_TRUE(home_.store().AddPerson(person));
    window_ = &home_.Open(/*practice=*/true);
    home_.context().open_source = [unplugged = unplugged_](const AppContext&) {
      return OpenUnpluggable(OpenPractice(QuickPractice()), unplugged);
    };
  }

  // The page with its source running.
  void Begin() {
    window_->Show(PageId::kMeasure);
    PressKey(*window_, Qt::Key_Space);
  }

  [[nodiscard]] const FlowState& state() const { return PageOf(*window_).flow().state(); }
  [[nodiscard]] bool RunTo(FlowPhase phase, int trial) {
    return RunUntil([&] { return state().phase == phase && state().trial == trial; });
  }
  // Nobody needs to rest here.
  [[nodiscard]] bool SkipRest() {
    const int trial = state().trial;
    if (state().phase == FlowPhase::kRest) PressKey(*window_, Qt::Key_Space);
    return state().phase != FlowPhase::kRest && state().trial == trial;
  }

  std::shared_ptr<std::atomic<bool>> unplugged_ = std::make_shared<std::atomic<bool>>(false);
  Home home_;
  MainWindow* window_ = nullptr;
};

TEST_F(MeasurePageTest, MeasuresUntilItCanAnswerAndKeepsEveryTrial) {
  PressDriver driver(home_.live(), *window_);
  Begin();
  int kept = 0;
  ASSERT_TRUE(RunUntil([&] {
    if (window_->shown() != PageId::kMeasure) return true;
    if (state().phase == FlowPhase::kRest) {
      ++kept;
      // On disk the moment it ended, while the measurement still runs.
      EXPECT_TRUE(RunUntil([&] {
        const auto session = home_.store().FindSession(home_.context().session);
        return session && session->trials == kept;
      }));
      if (state().phase != FlowPhase::kRest) return false;
      EXPECT_TRUE(SkipRest());
    }
    return false;
  }));
  ASSERT_EQ(window_->shown(), PageId::kComfort);
  PressKey(*window_, Qt::Key_Return);  // no answer is chosen beforehand
  EXPECT_EQ(window_->shown(), PageId::kComfort);
  window_->page()->findChild<QPushButton*>("fine")->click();
  ASSERT_TRUE(RunUntil([&] { return window_->shown() == PageId::kResult; }));

  const RowId id = home_.context().session;
  const auto session = home_.store().FindSession(id);
  ASSERT_TRUE(session);
  EXPECT_TRUE(session->setup.practice);
  EXPECT_EQ(session->comfort, "fine");
  EXPECT_TRUE(session->ended_at);
  EXPECT_THAT(session->session_json, HasSubstr("nearpoint/session/1"));
  EXPECT_THAT(session->session_json, HasSubstr("\"target_on\": \"printed\""));
  const auto trials = home_.store().Trials(id);
  ASSERT_TRUE(trials);
  ASSERT_THAT(*trials, SizeIs(Ge(3)));
  // Against the truth of each trial. The press is four frames after the change, 333 ms, and the
  // profile corrects for 320 ms; a frame is 83 ms, in which the head moves 1.5 mm in and 3.3 mm
  // back, and the tracker's own error on this small picture.
  for (const StoredTrial& stored : *trials) {
    ASSERT_FALSE(stored.trial.set_aside) << TrialToText(stored.trial);
    PracticeOptions options = QuickPractice();
    options.patient.behaviour.trials = 1;
    options.patient.seed += static_cast<std::uint64_t>(stored.trial.number);
    const auto script = simulate::MakeScript(options.patient);
    ASSERT_THAT(script.trials, SizeIs(1));
    ASSERT_TRUE(stored.trial.break_point);
    EXPECT_NEAR(stored.trial.break_point->value.value.mm(), script.trials[0].break_distance.mm(), 4)
        << "trial " << stored.trial.number;
    ASSERT_TRUE(stored.trial.recovery);
    EXPECT_NEAR(stored.trial.recovery->value.value.mm(), script.trials[0].recovery_distance.mm(), 6)
        << "trial " << stored.trial.number;
    EXPECT_THAT(stored.track_jsonl, HasSubstr("nearpoint/track/1"));
    EXPECT_THAT(stored.events, SizeIs(4));
  }
}

TEST_F(MeasurePageTest, GoesOnAfterTheCameraWasUnpluggedInMidTrial) {
  PressDriver driver(home_.live(), *window_);
  Begin();
  ASSERT_TRUE(RunTo(FlowPhase::kRest, 2));
  ASSERT_TRUE(SkipRest());
  ASSERT_TRUE(RunTo(FlowPhase::kApproach, 2));
  *unplugged_ = true;
  ASSERT_TRUE(RunUntil([&] { return !home_.live().running(); }));
  ASSERT_TRUE(RunUntil([&] { return state().phase == FlowPhase::kFind; }));
  EXPECT_EQ(home_.store().Trials(home_.context().session)->size(), 1u);
  bool said = false;
  for (const QLabel* label : window_->page()->findChildren<QLabel*>()) {
    said = said || (label->isVisible() && label->text() == "The camera stopped");
  }
  EXPECT_TRUE(said);

  *unplugged_ = false;
  PressKey(*window_, Qt::Key_Space);
  ASSERT_TRUE(RunTo(FlowPhase::kRest, 3));
  QCoreApplication::processEvents();
  const auto trials = home_.store().Trials(home_.context().session);
  ASSERT_TRUE(trials);
  ASSERT_THAT(*trials, SizeIs(2));
  EXPECT_EQ(trials->at(1).trial.number, 2);
  EXPECT_FALSE(trials->at(1).trial.set_aside) << TrialToText(trials->at(1).trial);

  // Escape in the rest: the trials stay, the question follows.
  PressKey(*window_, Qt::Key_Escape);
  EXPECT_TRUE(RunUntil([&] { return window_->shown() == PageId::kComfort; }));
}

TEST_F(MeasurePageTest, OffersToGoOnAndGoesOnWithTheNextNumber) {
  {
    PressDriver driver(home_.live(), *window_);
    Begin();
    ASSERT_TRUE(RunTo(FlowPhase::kRest, 2));
    QCoreApplication::processEvents();
  }
  // As after a kill: the window is gone, the session was never ended.
  home_.live().Stop();
  window_->Show(PageId::kHome);
  auto* go_on = window_->page()->findChild<QPushButton*>("go_on");
  ASSERT_NE(go_on, nullptr);
  go_on->click();
  ASSERT_TRUE(RunUntil([&] { return window_->shown() == PageId::kMeasure; }));
  EXPECT_EQ(state().trial, 2);
  PressDriver driver(home_.live(), *window_);
  PressKey(*window_, Qt::Key_Space);
  ASSERT_TRUE(RunTo(FlowPhase::kRest, 3));
  QCoreApplication::processEvents();
  EXPECT_EQ(home_.store().Trials(home_.context().session)->size(), 2u);
}

// The last trial of a session is judged while the page goes; that it was not written is said after.
TEST_F(MeasurePageTest, ATrialThatEndsWithThePageIsNotLostInSilence) {
  PressDriver driver(home_.live(), *window_);
  Begin();
  ASSERT_TRUE(RunTo(FlowPhase::kSettle, 1));
  const auto& flow = PageOf(*window_).flow();
  ASSERT_TRUE(home_.store().database().Run(
      "CREATE TRIGGER full BEFORE INSERT ON trial BEGIN SELECT RAISE(ABORT, 'full'); END"));
  ASSERT_TRUE(RunUntil([&] { return flow.judging(); }));
  window_->Show(PageId::kHome);
  QCoreApplication::processEvents();
  EXPECT_EQ(home_.context().pending->count(), 1);
  const auto* said = window_->findChild<QLabel*>("unwritten");
  EXPECT_TRUE(said->isVisible());
  ASSERT_TRUE(home_.store().database().Run("DROP TRIGGER full"));
  window_->findChild<QPushButton*>("write_again")->click();
  EXPECT_EQ(home_.context().pending->count(), 0);
  EXPECT_FALSE(said->isVisible());
  const auto sessions = home_.store().Sessions(home_.context().person->id);
  ASSERT_THAT(*sessions, SizeIs(1));
  EXPECT_EQ(sessions->front().trials, 1);
}

TEST_F(MeasurePageTest, EscapeBeforeTheFirstTrialKeepsNothing) {
  Begin();
  ASSERT_TRUE(RunTo(FlowPhase::kApproach, 1));
  PressKey(*window_, Qt::Key_Escape);
  EXPECT_TRUE(RunUntil([&] { return window_->shown() == PageId::kHome; }));
  EXPECT_FALSE(home_.live().running());
  EXPECT_TRUE(home_.store().Sessions(home_.context().person->id)->empty());
}

// Whoever only watches: the simulated person presses, keys of the keyboard mean nothing.
TEST_F(MeasurePageTest, TheSimulatedPersonCanPress) {
  home_.context().open_source = [](const AppContext& context) {
    PracticeOptions options = QuickPractice();
    options.presses = context.patient_presses;
    return OpenPractice(options);
  };
  window_->Show(PageId::kMeasure);
  window_->page()->findChild<QPushButton*>("watch")->click();
  ASSERT_TRUE(RunTo(FlowPhase::kApproach, 1));
  PressKey(*window_, Qt::Key_Space);
  EXPECT_EQ(state().phase, FlowPhase::kApproach);
  EXPECT_TRUE(RunTo(FlowPhase::kReturn, 1));
}

// A click anywhere is a report, too; the button that stops stays a button.
TEST_F(MeasurePageTest, AClickReports) {
  Begin();
  ASSERT_TRUE(RunTo(FlowPhase::kApproach, 1));
  ASSERT_TRUE(RunUntil([&] { return state().distance->mm() < 250; }));
  QTest::mouseClick(window_->page(), Qt::LeftButton);
  EXPECT_EQ(state().phase, FlowPhase::kReturn);
  QTest::mouseClick(window_->page()->findChild<QPushButton*>("stop"), Qt::LeftButton);
  EXPECT_TRUE(RunUntil([&] { return window_->shown() == PageId::kHome; }));
}

}  // namespace
}  // namespace nearpoint
