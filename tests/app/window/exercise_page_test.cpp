// The whole exercise by the keyboard, on simulated eyes, and what is in the store afterwards.
#include "app/window/pages/exercise_page.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QApplication>
#include <QLabel>
#include <QPushButton>
#include <QTest>

#include "app/window/exercise/days.h"
#include "app/window/exercise/pair_stage.h"
#include "app/window/exercise/screen_card.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/pending_writes.h"
#include "app/window/safety_words.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/home_fixture.h"
#include "tests/support/exercise_patient.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::Doing;
using testing::ExercisePatient;
using testing::Exerciser;
using ::testing::SizeIs;

class ExercisePageTest : public ::testing::Test {
 protected:
  ExercisePageTest() {
    UseLanguage("en");
    Person person;
    person.name = "A";
    nearpoint::Choose(home_.context(), home_.store().AddPerson(person).value());
    window_.emplace(home_.context());
    window_->AddPage(PageId::kExercise, [](AppContext& context, QWidget* parent) -> Page* {
      return new ExercisePage(context, parent, ExercisePage::Feed::kGiven);
    });
    window_->show();
    ShowAnswered(*window_, PageId::kExercise);
    Settle();
  }

  static void Settle() {
    for (int i = 0; i < 5; ++i) QApplication::processEvents();
    // Pages that were left.
    QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
  }
  ExercisePage& page() { return *qobject_cast<ExercisePage*>(window_->page()); }
  void Key(Qt::Key key) {
    QWidget* const focus = window_->focusWidget();
    QTest::keyClick(focus != nullptr ? focus : static_cast<QWidget*>(&*window_), key);
    Settle();
  }
  QString Text(const char* name) {
    const auto* label = page().findChild<QLabel*>(name);
    return label != nullptr ? label->text() : QString();
  }

  // From the first page to where the eyes are looked for.
  void BeginByKeyboard() {
    ASSERT_EQ(page().stage(), ExercisePage::Stage::kBefore);
    Key(Qt::Key_Space);  // "Begin" has the focus
    ASSERT_EQ(page().stage(), ExercisePage::Stage::kScreen);
    Key(Qt::Key_Right);
    Key(Qt::Key_Return);
    ASSERT_EQ(page().stage(), ExercisePage::Stage::kRunning);
  }

  // The eyes and the finger on the key, for so many seconds or until the page goes on.
  void Exercise(Exerciser& patient, double seconds) {
    for (int i = 0; i < seconds * 30; ++i) {
      if (page().stage() != ExercisePage::Stage::kRunning) return;
      const RepetitionCounter* const counter = page().session().counter();
      if (page().session().pair()) {
        patient.SetSeparation(page().session().pair()->separation.mm());
      }
      const auto frame = patient.Next(counter ? counter->phase() : CounterPhase::kLookFar);
      if (frame.report) {
        QTest::keyClick(&*window_,
                        *frame.report == FusionReport::kMarkMissing ? Qt::Key_M : Qt::Key_Space);
      }
      if (frame.sample) page().OnSample(*frame.sample);
    }
  }
  ExercisePatient Patient(Doing doing) {
    ExercisePatient p;
    p.doing = doing;
    // What the page takes for this person, who was never measured.
    p.pupil_distance_mm = page().session().view().pupils.value.mm();
    return p;
  }
  // The card is asked for again.
  void KeepNoScale() {
    ASSERT_THAT(home_.store().database().Run("DELETE FROM setting WHERE key LIKE 'screen_mm%'"),
                IsOk());
  }
  std::vector<StoredExercise> Stored() {
    return ExerciseStore(home_.store()).Sessions(home_.context().person->id).value();
  }

  Home home_;
  std::optional<MainWindow> window_;
};

TEST_F(ExercisePageTest, TenRepetitionsByTheKeyboard) {
  BeginByKeyboard();
  Exerciser patient(Patient(Doing::kWell), 1);
  Exercise(patient, 600);
  ASSERT_EQ(page().stage(), ExercisePage::Stage::kAfter);
  Settle();
  // None of the answers has the keyboard.
  Key(Qt::Key_Space);
  EXPECT_EQ(window_->shown(), PageId::kExercise);
  page().findChild<QPushButton*>("fine")->setFocus();
  Key(Qt::Key_Space);
  EXPECT_EQ(window_->shown(), PageId::kDiary);

  const auto stored = Stored();
  ASSERT_THAT(stored, SizeIs(1));
  EXPECT_EQ(stored[0].comfort, "fine");
  EXPECT_TRUE(stored[0].ended_at);
  EXPECT_EQ(stored[0].setup.level, 1);
  int counted = 0;
  for (const Attempt& a : stored[0].attempts) {
    counted += a.counted() ? 1 : 0;
    // The plan's first distance; the head sways by 8 mm.
    EXPECT_NEAR(a.asked.mm(), 200, 12);
    EXPECT_GE(a.held_s, a.counted() ? 3 : 0);
  }
  EXPECT_EQ(counted, 10);
}

TEST_F(ExercisePageTest, AHandAloneCountsNothingAndIsTold) {
  BeginByKeyboard();
  Exerciser patient(Patient(Doing::kOnlyHand), 2);
  int told = 0;
  for (int i = 0; i < 45 * 30; ++i) {
    Exercise(patient, 1.0 / 30);
    const auto* warning = page().findChild<QLabel*>("warning");
    const bool said =
        warning->text().contains("Not counted: the camera did not see your eyes turn in");
    told += said && !warning->isHidden() ? 1 : 0;
  }
  ASSERT_EQ(page().stage(), ExercisePage::Stage::kRunning);
  EXPECT_EQ(page().session().counter()->counted(), 0);
  ASSERT_FALSE(page().session().attempts().empty());
  EXPECT_EQ(page().session().attempts()[0].why, NotCounted::kOnlyHandMoved);
  EXPECT_GE(told, 30) << "pictures for which the reason stood";
  // Each is in the store already, although the session goes on.
  Store second = Store::Open(home_.file(), TestNow).value();
  const auto read = ExerciseStore(second).Sessions(home_.context().person->id).value();
  ASSERT_THAT(read, SizeIs(1));
  EXPECT_EQ(read[0].attempts.size(), page().session().attempts().size());
  EXPECT_FALSE(read[0].ended_at);
  // Escape ends it with the numbers, and again leads home.
  Key(Qt::Key_Escape);
  EXPECT_EQ(page().stage(), ExercisePage::Stage::kAfter);
  Key(Qt::Key_Escape);
  EXPECT_EQ(window_->shown(), PageId::kHome);
  EXPECT_TRUE(Stored()[0].ended_at);
}

TEST_F(ExercisePageTest, AMissingMarkIsOneKey) {
  BeginByKeyboard();
  Exerciser patient(Patient(Doing::kMissesMark), 1);
  Exercise(patient, 20);
  ASSERT_FALSE(page().session().attempts().empty());
  EXPECT_EQ(page().session().attempts()[0].why, NotCounted::kMarkMissing);
  EXPECT_TRUE(Text("warning").contains("mark"));
}

TEST_F(ExercisePageTest, EscapeLeadsOutBeforeTheFirstAttempt) {
  BeginByKeyboard();
  Key(Qt::Key_Escape);
  EXPECT_EQ(window_->shown(), PageId::kHome);
  EXPECT_THAT(Stored(), SizeIs(0));
}

TEST_F(ExercisePageTest, TheCameraBreaksOffAndComesBack) {
  BeginByKeyboard();
  Exerciser patient(Patient(Doing::kWell), 1);
  Exercise(patient, 40);
  const auto safe = page().session().attempts().size();
  ASSERT_GE(safe, 1U);
  page().OnFailed({ErrorCode::kUnavailable, "The camera was unplugged."});
  EXPECT_EQ(page().stage(), ExercisePage::Stage::kBroken);
  EXPECT_EQ(
      Text("trouble"),
      "The camera gives no pictures. It may be unplugged, or another program may be using it.");
  Key(Qt::Key_Space);  // "Go on"
  EXPECT_EQ(page().stage(), ExercisePage::Stage::kRunning);
  // A source that is opened again counts its time from zero.
  Exerciser again(Patient(Doing::kWell), 2);
  Exercise(again, 600);
  EXPECT_EQ(page().stage(), ExercisePage::Stage::kAfter);
  EXPECT_EQ(page().session().counter()->counted(), 10);
}

TEST_F(ExercisePageTest, WhatTheStoreRefusesIsKeptAndWrittenLater) {
  BeginByKeyboard();
  ASSERT_THAT(home_.store().database().Run("CREATE TRIGGER full BEFORE INSERT ON exercise_attempt "
                                           "BEGIN SELECT RAISE(ABORT, 'full'); END"),
              IsOk());
  Exerciser patient(Patient(Doing::kWell), 1);
  Exercise(patient, 40);
  const auto made = page().session().attempts().size();
  ASSERT_GE(made, 2U);
  EXPECT_TRUE(window_->findChild<QLabel*>("unwritten")->isVisible());
  Key(Qt::Key_Escape);
  page().findChild<QPushButton*>("tired")->click();
  Settle();
  EXPECT_EQ(window_->shown(), PageId::kDiary);
  EXPECT_TRUE(Stored()[0].attempts.empty());
  ASSERT_THAT(home_.store().database().Run("DROP TRIGGER full"), IsOk());
  ASSERT_THAT(home_.context().pending->TryAgain(), IsOk());
  EXPECT_FALSE(window_->findChild<QLabel*>("unwritten")->isVisible());
  EXPECT_GE(Stored()[0].attempts.size(), made);
  EXPECT_EQ(Stored()[0].comfort, "tired");
}

TEST_F(ExercisePageTest, TheQuestionAfterItIsInViewWithLargeText) {
  for (const char* language : {"en", "de"}) {
    UseLanguage(language);
    look::SetScale(2);
    window_.emplace(home_.context());
    window_->AddPage(PageId::kExercise, [](AppContext& context, QWidget* parent) -> Page* {
      return new ExercisePage(context, parent, ExercisePage::Feed::kGiven);
    });
    window_->resize(1024, 600);
    window_->show();
    ShowAnswered(*window_, PageId::kExercise);
    Settle();
    Key(Qt::Key_Space);
    if (page().stage() == ExercisePage::Stage::kScreen) Key(Qt::Key_Return);
    ASSERT_EQ(page().stage(), ExercisePage::Stage::kRunning);
    Exerciser patient(Patient(Doing::kWell), 1);
    Exercise(patient, 25);
    Key(Qt::Key_Escape);
    ASSERT_EQ(page().stage(), ExercisePage::Stage::kAfter);
    for (const char* name : {"fine", "tired", "discomfort", "double"}) {
      const auto* button = page().findChild<QPushButton*>(name);
      EXPECT_EQ(button->visibleRegion().boundingRect(), button->rect()) << language << ' ' << name;
      EXPECT_FALSE(button->hasFocus());
    }
  }
  look::SetScale(1);
  UseLanguage("en");
}

TEST_F(ExercisePageTest, StillDoubleMeansStop) {
  BeginByKeyboard();
  Exerciser patient(Patient(Doing::kWell), 1);
  Exercise(patient, 30);
  Key(Qt::Key_Escape);
  ASSERT_EQ(page().stage(), ExercisePage::Stage::kAfter);
  page().findChild<QPushButton*>("double")->click();
  Settle();
  EXPECT_EQ(window_->shown(), PageId::kExercise);
  EXPECT_TRUE(Text("trouble").contains("Do not exercise on"));
  EXPECT_TRUE(Text("trouble").contains(words::DoubleVision()));
  EXPECT_EQ(Stored()[0].comfort, "double");
}

// What is shown is what was computed: dots times the size of a dot, for the distance that is.
TEST_F(ExercisePageTest, ThePairOnTheScreenIsTheGeometry) {
  BeginByKeyboard();
  ExercisePatient p = Patient(Doing::kWell);
  p.sway_mm = 0;
  p.distance_rel_sd = 0;
  Exerciser patient(p, 1);
  Exercise(patient, 4);
  ASSERT_TRUE(page().session().pair());
  const auto* stage = page().findChild<PairStage*>("stage");
  const auto* card = page().findChild<ScreenCard*>("card");
  const double shown_mm = stage->separation_dots() * card->mm_per_dot();
  const double pd = p.pupil_distance_mm;
  EXPECT_NEAR(shown_mm, pd * (513.5 - 213.5) / 213.5, card->mm_per_dot());
  EXPECT_EQ(stage->shows(), StageShows::kPair);
}

TEST_F(ExercisePageTest, APlanThatCannotBeShownIsSaid) {
  ExercisePlan plan = CommonPracticePlan();
  plan.levels = {Length::Millimeters(60)};  // 36 cm between the figures
  ASSERT_THAT(ExerciseStore(home_.store()).SetPlan(home_.context().person->id, plan), IsOk());
  ShowAnswered(*window_, PageId::kExercise);
  Settle();
  BeginByKeyboard();
  Exerciser patient(Patient(Doing::kWell), 1);
  Exercise(patient, 3);
  EXPECT_FALSE(page().session().pair());
  EXPECT_TRUE(Text("trouble").contains("None of the pairs of your plan can be shown here"));
  Key(Qt::Key_Escape);
  EXPECT_EQ(window_->shown(), PageId::kHome);
}

// What the clinician set stands where the exercise begins: when to stop, and that it is over.
TEST_F(ExercisePageTest, ThePlansStopRulesAndItsEndAreSaidBeforeItBegins) {
  const auto shown = [this](const char* name) {
    ShowAnswered(*window_, PageId::kExercise);
    Settle();
    const auto* label = page().findChild<QLabel*>(name);
    return label->isVisible() ? label->text() : QString();
  };
  EXPECT_TRUE(shown("source").contains("this program's own choice"));
  EXPECT_TRUE(shown("published").contains("43 of 100"));
  EXPECT_EQ(shown("stop_rules"), QString());
  EXPECT_EQ(shown("due"), QString());
  ExercisePlan plan = CommonPracticePlan();
  plan.source = PlanSource::kClinician;
  plan.set_by = "B";
  plan.stop_when = {"the left eye waters"};
  plan.until = ToDay(TestNow().date().addDays(-1));
  ASSERT_THAT(ExerciseStore(home_.store()).SetPlan(home_.context().person->id, plan), IsOk());
  EXPECT_TRUE(shown("stop_rules").contains("the left eye waters"));
  EXPECT_TRUE(shown("due").contains("has come to its end"));
  EXPECT_EQ(shown("source"), "Set by B.");
  EXPECT_EQ(shown("published"), QString());
  plan.until.reset();
  ASSERT_THAT(ExerciseStore(home_.store()).SetPlan(home_.context().person->id, plan), IsOk());
  EXPECT_EQ(shown("due"), QString());
}

TEST_F(ExercisePageTest, AnAveragePupilDistanceIsSaid) {
  const auto said = [this] {
    ShowAnswered(*window_, PageId::kExercise);
    Settle();
    for (const QLabel* label : page().findChildren<QLabel*>()) {
      if (label->text().contains("average face")) return true;
    }
    return false;
  };
  EXPECT_TRUE(said());
  home_.context().profile.face.distance_pd = {Length::Millimeters(61), Length::Millimeters(0.5)};
  EXPECT_FALSE(said());
}

// Three times in a row that fail after some that counted: said while it can still be heeded, once.
TEST_F(ExercisePageTest, TiredEyesAreToldToRest) {
  BeginByKeyboard();
  Exerciser patient(Patient(Doing::kWell), 1);
  Exercise(patient, 40);
  const int counted = page().session().counter()->counted();
  ASSERT_GE(counted, 2);
  const auto times = [this] { return home_.sound().said.filter("seem to tire").size(); };
  EXPECT_EQ(times(), 0);
  patient.Set(Doing::kHalfWay);
  Exercise(patient, 90);
  EXPECT_EQ(page().stage(), ExercisePage::Stage::kRunning);
  EXPECT_GE(page().session().attempts().size(), static_cast<std::size_t>(counted + 4));
  EXPECT_EQ(times(), 1);
}

// The simulated person of the practice, by the clock; nothing of it is in the diary.
TEST_F(ExercisePageTest, PracticeRunsByItself) {
  ExercisePlan plan = CommonPracticePlan();
  plan.repetitions = 1;
  plan.hold_s = 1;
  ASSERT_THAT(ExerciseStore(home_.store()).SetPlan(home_.context().person->id, plan), IsOk());
  home_.context().practice = true;
  window_->AddPage(PageId::kExercise, [](AppContext& context, QWidget* parent) -> Page* {
    return new ExercisePage(context, parent);
  });
  ShowAnswered(*window_, PageId::kExercise);
  Settle();
  Key(Qt::Key_Space);  // no card is asked for in the practice
  ASSERT_EQ(page().stage(), ExercisePage::Stage::kRunning);
  ASSERT_TRUE(QTest::qWaitFor(
      [this] {
        const RepetitionCounter* const counter = page().session().counter();
        return counter != nullptr && counter->share().value_or(0) > 0.9;
      },
      60000));
  Key(Qt::Key_Space);
  EXPECT_TRUE(
      QTest::qWaitFor([this] { return page().stage() == ExercisePage::Stage::kAfter; }, 60000));
  EXPECT_EQ(page().session().counter()->counted(), 1);
  EXPECT_THAT(Stored(), SizeIs(0));
}

TEST_F(ExercisePageTest, TheFirstPageRemindsGently) {
  const auto line = [this] {
    window_->Show(PageId::kHome);
    Settle();
    return window_->page()->findChild<QPushButton*>("exercise")->accessibleDescription();
  };
  EXPECT_TRUE(line().contains("Push-ups"));  // nobody was asked to yet
  ExercisePlan plan = CommonPracticePlan();
  plan.source = PlanSource::kClinician;
  plan.set_by = "B";
  plan.mornings = false;
  ASSERT_THAT(ExerciseStore(home_.store()).SetPlan(home_.context().person->id, plan), IsOk());
  EXPECT_EQ(line(), "Today would be a good day for it.");
  ShowAnswered(*window_, PageId::kExercise);
  Settle();
  BeginByKeyboard();
  Exerciser patient(Patient(Doing::kWell), 1);
  Exercise(patient, 600);
  EXPECT_EQ(line(), "Today is done.");
}

// Two sessions that went well lead to the next distance of the plan.
TEST_F(ExercisePageTest, GoesOnToTheNextLevel) {
  for (int session = 0; session < 2; ++session) {
    BeginByKeyboard();
    ExercisePatient p = Patient(Doing::kWell);
    Exerciser patient(p, 1);
    Exercise(patient, 600);
    ASSERT_EQ(page().stage(), ExercisePage::Stage::kAfter);
    Key(Qt::Key_Escape);
    ShowAnswered(*window_, PageId::kExercise);
    Settle();
    ExercisePage& again = page();
    EXPECT_EQ(again.session().level(), session == 0 ? 1 : 2);
    if (session == 0) KeepNoScale();
  }
}

}  // namespace
}  // namespace nearpoint
