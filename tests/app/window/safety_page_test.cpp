// Nobody measures or exercises past the questions before it, whatever way they take.
#include "app/window/pages/safety_page.h"

#include <gmock/gmock.h>

#include <QLabel>
#include <QTest>

#include "app/store/exercise_store.h"
#include "app/store/safety_store.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/safety_gate.h"
#include "app/window/safety_words.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"
#include "tests/app/window/stored_session.h"

namespace nearpoint {
namespace {

// A day on which the test's clock can go on.
QDateTime now;

class SafetyPageTest : public testing::Test {
 protected:
  SafetyPageTest() {
    Person person;
    person.name = "Mira";
    person.birth_year = 1990;
    person_ = home_.store().AddPerson(person).value();
    home_.Open();
    home_.context().open_source = [](const AppContext&) -> OpenLiveSource {
      return []() -> Result<LiveSource> { return Fail(ErrorCode::kNotFound, "no camera."); };
    };
  }
  MainWindow& window() { return home_.window(); }
  void Show(PageId page) {
    window().Show(page);
    HandleEvents();
  }
  bool Says(const QString& text) {
    for (const QLabel* label : window().page()->findChildren<QLabel*>()) {
      if (label->isVisible() && label->text().contains(text)) return true;
    }
    return false;
  }
  // From the first question to the stop.
  void AnswerYesTo(const QString& question) {
    for (int i = 0; i < 10; ++i) {
      const QString asked = AskedNow(window());
      if (asked.isEmpty()) return;
      ASSERT_TRUE(Choose(window(), asked == question ? "yes" : "no"));
    }
  }
  void Child(int birth_year) {
    Person child = person_;
    child.birth_year = birth_year;
    ASSERT_TRUE(home_.store().UpdatePerson(child));
    nearpoint::Choose(home_.context(), child);
  }
  SafetyFacts Facts() { return SafetyStore(home_.store()).FactsOf(person_.id).value(); }

  Home home_;
  Person person_;
};

TEST_F(SafetyPageTest, TheQuestionsComeBeforeTheFirstMeasurementAndExercise) {
  for (const PageId page : {PageId::kMeasure, PageId::kExercise}) {
    Show(page);
    EXPECT_EQ(window().shown(), PageId::kSafety);
    // Escape leads away from it, and past nothing.
    PressKey(window(), Qt::Key_Escape);
    HandleEvents();
    EXPECT_EQ(window().shown(), PageId::kHome);
    Show(page);
    EXPECT_EQ(window().shown(), PageId::kSafety);
  }
  ShowAnswered(window(), PageId::kMeasure);
  EXPECT_EQ(window().shown(), PageId::kMeasure);
  ASSERT_TRUE(Facts().whole);
  EXPECT_EQ(StopFor(Facts().whole->answers), Stop::kNone);
}

TEST_F(SafetyPageTest, NothingIsChosenBeforehandAndTheAnswersAreAlike) {
  Show(PageId::kMeasure);
  const QString first = AskedNow(window());
  for (const Qt::Key key : {Qt::Key_Return, Qt::Key_Enter, Qt::Key_Space}) {
    PressKey(window(), key);
    HandleEvents();
    EXPECT_EQ(AskedNow(window()), first);
  }
  const auto* yes = ShownButton(window(), "yes");
  const auto* no = ShownButton(window(), "no");
  EXPECT_EQ(yes->size(), no->size());
  EXPECT_EQ(yes->font(), no->font());
  EXPECT_EQ(yes->property("role"), no->property("role"));
  EXPECT_FALSE(yes->isDefault() || no->isDefault() || yes->hasFocus() || no->hasFocus());
  // By the keyboard the answers come first.
  PressKey(window(), Qt::Key_Tab);
  EXPECT_EQ(window().focusWidget(), yes);
  PressKey(window(), Qt::Key_Tab);
  EXPECT_EQ(window().focusWidget(), no);
  PressKey(window(), Qt::Key_Return);
  HandleEvents();
  EXPECT_NE(AskedNow(window()), first);
  EXPECT_FALSE(ShownButton(window(), "no")->hasFocus());
}

TEST_F(SafetyPageTest, NoAnswerLiesBelowTheEdgeWithLargeText) {
  for (const char* language : {"en", "de"}) {
    UseLanguage(language);
    look::SetScale(2);
    home_.Open();
    window().resize(1024, 600);
    Child(2017);
    for (const PageId page : {PageId::kMeasure, PageId::kExercise}) {
      Show(page);
      for (int i = 0; i < 20 && window().shown() == PageId::kSafety; ++i) {
        if (Choose(window(), "continue")) continue;
        const QString asked = AskedNow(window());
        for (const char* name : {"yes", "no"}) {
          const auto* button = ShownButton(window(), name);
          ASSERT_NE(button, nullptr);
          EXPECT_EQ(button->visibleRegion().boundingRect(), button->rect())
              << language << ' ' << asked.toStdString() << ' ' << name;
        }
        const auto* question = window().page()->findChild<QLabel*>("question");
        EXPECT_EQ(question->visibleRegion().boundingRect(), question->rect());
        const bool yes = asked == "adult_beside" || asked == "told_to_exercise";
        ASSERT_TRUE(Choose(window(), yes ? "yes" : "no"));
      }
      EXPECT_EQ(window().shown(), page);
    }
  }
  look::SetScale(1);
  UseLanguage("en");
}

TEST_F(SafetyPageTest, ASignStopsMeasuringAndExercisingUntilItIsAnsweredOtherwise) {
  Show(PageId::kMeasure);
  AnswerYesTo("signs");
  EXPECT_TRUE(Says(words::Help()));
  PressKey(window(), Qt::Key_Escape);
  HandleEvents();
  // At home, in the same window and in the next: a notice, and neither is offered.
  const auto stopped = [this](MainWindow& shown) {
    shown.Show(PageId::kHome);
    HandleEvents();
    EXPECT_NE(shown.page()->findChild<QLabel*>("stopped"), nullptr);
    EXPECT_EQ(shown.page()->findChild<QPushButton*>("measure"), nullptr);
    EXPECT_EQ(shown.page()->findChild<QPushButton*>("exercise"), nullptr);
    for (const PageId page : {PageId::kMeasure, PageId::kExercise}) {
      shown.Show(page);
      HandleEvents();
      EXPECT_EQ(shown.shown(), PageId::kSafety);
      EXPECT_TRUE(AskedNow(shown).isEmpty());  // the notice, no way through
    }
  };
  stopped(window());
  Home again(home_.file());
  stopped(again.Open());
  // Practice with the simulated person stays possible.
  window().Show(PageId::kHome);
  HandleEvents();
  ASSERT_TRUE(Choose(window(), "practice"));
  EXPECT_NE(window().page()->findChild<QPushButton*>("measure"), nullptr);
  Show(PageId::kMeasure);
  EXPECT_EQ(window().shown(), PageId::kMeasure);
  home_.context().practice = false;
  // Until a person answers otherwise.
  Show(PageId::kHome);
  ASSERT_TRUE(Choose(window(), "safety"));
  ASSERT_EQ(window().shown(), PageId::kSafety);
  AnswerSafety(window());
  EXPECT_EQ(window().shown(), PageId::kHome);
  EXPECT_NE(window().page()->findChild<QPushButton*>("measure"), nullptr);
  ShowAnswered(window(), PageId::kMeasure);
  EXPECT_EQ(window().shown(), PageId::kMeasure);
}

TEST_F(SafetyPageTest, SomethingNewTodayStops) {
  ShowAnswered(window(), PageId::kMeasure);
  ASSERT_EQ(window().shown(), PageId::kMeasure);
  Show(PageId::kHome);
  // Briefly before each measurement.
  Show(PageId::kMeasure);
  ASSERT_EQ(AskedNow(window()), "new_today");
  ASSERT_TRUE(Choose(window(), "no"));
  EXPECT_EQ(window().shown(), PageId::kMeasure);
  Show(PageId::kMeasure);
  ASSERT_EQ(AskedNow(window()), "new_today");
  ASSERT_TRUE(Choose(window(), "yes"));
  EXPECT_TRUE(Says(words::Help()));
  Show(PageId::kHome);
  EXPECT_EQ(window().page()->findChild<QPushButton*>("measure"), nullptr);
}

TEST_F(SafetyPageTest, IsAskedAgainWhenItIsOld) {
  now = TestNow();
  Store store = Store::Open(home_.file(), [] { return now; }).value();
  AppContext context(store, home_.live(), home_.sound());
  ASSERT_EQ(Begin(context, false), PageId::kHome);
  SafetyAnswers answers;
  while (const auto next = NextOfCheck(answers)) answers[*next] = false;
  ASSERT_TRUE(SafetyStore(store).Keep(person_.id, SafetyStore::Kind::kWhole, answers));
  EXPECT_EQ(StepBefore(context, PageId::kMeasure).value(), SafetyStep::kNewToday);
  now = now.addDays(kAskAgainAfter.count());
  EXPECT_EQ(StepBefore(context, PageId::kMeasure).value(), SafetyStep::kNewToday);
  now = now.addSecs(1);
  EXPECT_EQ(StepBefore(context, PageId::kMeasure).value(), SafetyStep::kWhole);
}

TEST_F(SafetyPageTest, EachPersonAnswersForThemselves) {
  Show(PageId::kMeasure);
  AnswerYesTo("squint");
  ASSERT_EQ(StopOf(Facts()), Stop::kAskFirst);
  Person jo;
  jo.name = "Jo";
  nearpoint::Choose(home_.context(), home_.store().AddPerson(jo).value());
  Show(PageId::kHome);
  EXPECT_EQ(window().page()->findChild<QLabel*>("stopped"), nullptr);
  ShowAnswered(window(), PageId::kMeasure);
  EXPECT_EQ(window().shown(), PageId::kMeasure);
  nearpoint::Choose(home_.context(), person_);
  Show(PageId::kHome);
  EXPECT_NE(window().page()->findChild<QLabel*>("stopped"), nullptr);
}

// Point: double vision that stays, or pain, blocks what comes next.
TEST_F(SafetyPageTest, TroubleBlocksTheNextUntilSomebodyWasAsked) {
  ShowAnswered(window(), PageId::kMeasure);
  for (const char* comfort : {"double", "discomfort"}) {
    home_.context().session = AddSession(home_.store(), person_.id, {ComputedTrial(1, 92, 121)});
    Show(PageId::kComfort);
    ASSERT_TRUE(Choose(window(), comfort));
    ASSERT_EQ(window().shown(), PageId::kResult);
    EXPECT_TRUE(Says(QString(comfort) == "double" ? words::DoubleVision() : words::OtherSigns()));
    Show(PageId::kHome);
    EXPECT_NE(window().page()->findChild<QLabel*>("stopped"), nullptr);
    EXPECT_EQ(window().page()->findChild<QPushButton*>("measure"), nullptr);
    // Nor in a window that is opened later.
    Home again(home_.file());
    again.Open();
    ShowAnswered(again.window(), PageId::kExercise);
    EXPECT_EQ(again.window().shown(), PageId::kSafety);

    ShowAnswered(window(), PageId::kMeasure);
    ASSERT_EQ(window().shown(), PageId::kSafety);
    ASSERT_TRUE(Choose(window(), "nobody"));
    EXPECT_EQ(window().shown(), PageId::kSafety);
    EXPECT_EQ(ShownButton(window(), "doctor"), nullptr);
    ShowAnswered(window(), PageId::kMeasure);
    ASSERT_TRUE(Choose(window(), "doctor"));
    AnswerSafety(window());
    EXPECT_EQ(window().shown(), PageId::kMeasure);
    Show(PageId::kHome);
    EXPECT_EQ(window().page()->findChild<QLabel*>("stopped"), nullptr);
    EXPECT_FALSE(Facts().trouble);
  }
}

TEST_F(SafetyPageTest, TheReminderNeverCallsItAGoodDayAfterTrouble) {
  ExercisePlan plan = CommonPracticePlan();
  plan.source = PlanSource::kClinician;
  plan.set_by = "B";
  ASSERT_TRUE(ExerciseStore(home_.store()).SetPlan(person_.id, plan));
  const auto lead = [this] {
    Show(PageId::kDiary);
    return window().page()->accessibleDescription();
  };
  EXPECT_TRUE(lead().contains("good day"));
  home_.context().session = AddSession(home_.store(), person_.id, {ComputedTrial(1, 92, 121)});
  Show(PageId::kComfort);
  ASSERT_TRUE(Choose(window(), "double"));
  EXPECT_FALSE(lead().contains("good day"));
  EXPECT_TRUE(lead().contains("Do not exercise now"));
}

TEST_F(SafetyPageTest, AChildUnderTwelveNeedsAnAdultEachTime) {
  Child(2017);
  ShowAnswered(window(), PageId::kMeasure);
  ASSERT_EQ(window().shown(), PageId::kMeasure);
  for (const PageId page : {PageId::kMeasure, PageId::kExercise}) {
    Show(PageId::kHome);
    Show(page);
    ASSERT_EQ(AskedNow(window()), "new_today");
    ASSERT_TRUE(Choose(window(), "no"));
    ASSERT_EQ(AskedNow(window()), "adult_beside");
    ASSERT_TRUE(Choose(window(), "no"));
    EXPECT_EQ(window().shown(), PageId::kSafety);
    EXPECT_TRUE(Says("fetch an adult"));
    EXPECT_TRUE(AskedNow(window()).isEmpty());
  }
  // Nothing of it is stored: somebody is asked again and may say yes.
  ShowAnswered(window(), PageId::kMeasure);
  EXPECT_EQ(window().shown(), PageId::kMeasure);
}

TEST_F(SafetyPageTest, AnExerciseNeedsAPlanOrSomebodysWord) {
  ShowAnswered(window(), PageId::kMeasure);
  Show(PageId::kExercise);
  ASSERT_TRUE(Choose(window(), "no"));
  ASSERT_EQ(AskedNow(window()), "told_to_exercise");
  // Beside it stands what is published.
  EXPECT_TRUE(Says("43 of 100"));
  EXPECT_TRUE(Says("35 of 100"));
  ASSERT_TRUE(Choose(window(), "no"));
  EXPECT_EQ(window().shown(), PageId::kSafety);
  ShowAnswered(window(), PageId::kExercise);
  EXPECT_EQ(window().shown(), PageId::kExercise);
  ExercisePlan plan = CommonPracticePlan();
  plan.source = PlanSource::kClinician;
  plan.set_by = "B";
  ASSERT_TRUE(ExerciseStore(home_.store()).SetPlan(person_.id, plan));
  ASSERT_TRUE(
      SafetyStore(home_.store())
          .Keep(person_.id, SafetyStore::Kind::kTold, {{SafetyQuestion::kToldToExercise, false}}));
  Show(PageId::kExercise);
  ASSERT_TRUE(Choose(window(), "no"));
  EXPECT_EQ(window().shown(), PageId::kExercise);
}

}  // namespace
}  // namespace nearpoint
