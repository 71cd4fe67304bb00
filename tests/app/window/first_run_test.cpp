// The first run from the name to the start page, by keyboard alone.
#include <gmock/gmock.h>

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTest>

#include "app/window/percept.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"

namespace nearpoint {
namespace {

using testing::IsEmpty;
using testing::SizeIs;

// Handles what a press set in motion until that page is shown.
bool Reaches(const MainWindow& window, PageId page) {
  for (int i = 0; i < 100 && window.shown() != page; ++i) QCoreApplication::processEvents();
  return window.shown() == page;
}

void AnswerFourRight(MainWindow& window) {
  // What is asked shows in the accessible name only when it is no secret, so ask the widget.
  auto* question = window.page()->findChildren<PerceptPicture*>().last();
  for (int i = 0; i < 4; ++i) {
    question->SetSecret(false);
    const bool two = question->accessibleName().startsWith("Two");
    question->SetSecret(true);
    window.page()->findChild<QPushButton*>(two ? "two" : "not_two")->setFocus();
    PressKey(window, Qt::Key_Return);
  }
}

TEST(FirstRunTest, LeadsFromTheNameToTheStartByKeyboardAlone) {
  Home home;
  MainWindow& window = home.Open();
  ASSERT_EQ(window.shown(), PageId::kWelcome);
  QTest::keyClicks(window.focusWidget(), "Mira");
  PressKey(window, Qt::Key_Tab);
  QTest::keyClicks(window.focusWidget(), "1990");
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(Reaches(window, PageId::kAbout));
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(Reaches(window, PageId::kSafety));
  for (int question = 0; question < 6; ++question) {
    ASSERT_FALSE(AskedNow(window).isEmpty());
    PressKey(window, Qt::Key_Tab);
    PressKey(window, Qt::Key_Tab);  // "No"
    PressKey(window, Qt::Key_Return);
    HandleEvents();
  }
  PressKey(window, Qt::Key_Return);  // when to stop was read
  ASSERT_TRUE(Reaches(window, PageId::kCamera));
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(Reaches(window, PageId::kCard));
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(Reaches(window, PageId::kLag));
  window.page()->setFocus();
  PressKey(window, Qt::Key_Return);  // "Skip"
  ASSERT_TRUE(Reaches(window, PageId::kLearn));
  AnswerFourRight(window);
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(Reaches(window, PageId::kHome));

  const auto people = home.store().People();
  ASSERT_TRUE(people);
  ASSERT_THAT(*people, SizeIs(1));
  EXPECT_EQ(people->front().name, "Mira");
  EXPECT_EQ(people->front().birth_year, 1990);
  EXPECT_FALSE(home.context().first_run);
}

TEST(FirstRunTest, WantsANameAndAcceptsNoYear) {
  Home home;
  MainWindow& window = home.Open();
  PressKey(window, Qt::Key_Return);
  EXPECT_FALSE(Reaches(window, PageId::kAbout));
  QTest::keyClicks(window.focusWidget(), "  Jo  ");
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(Reaches(window, PageId::kAbout));
  EXPECT_EQ(home.store().People()->front().name, "Jo");
  EXPECT_FALSE(home.store().People()->front().birth_year);
}

TEST(FirstRunTest, RefusesAYearThatCannotBe) {
  for (const char* year : {"90", "2031", "1800", "abcd"}) {
    Home home;
    MainWindow& window = home.Open();
    QTest::keyClicks(window.focusWidget(), "Jo");
    PressKey(window, Qt::Key_Tab);
    QTest::keyClicks(window.focusWidget(), year);
    PressKey(window, Qt::Key_Return);
    EXPECT_FALSE(Reaches(window, PageId::kAbout)) << year;
    EXPECT_THAT(*home.store().People(), IsEmpty()) << year;
  }
}

TEST(FirstRunTest, EscapeGoesBackAStepAndNeverOut) {
  Home home;
  MainWindow& window = home.Open();
  PressKey(window, Qt::Key_Escape);
  EXPECT_TRUE(Reaches(window, PageId::kWelcome));
  window.Show(PageId::kSafety);
  PressKey(window, Qt::Key_Escape);
  EXPECT_TRUE(Reaches(window, PageId::kAbout));
}

TEST(FirstRunTest, WhoHasASignIsLedToPracticeOnly) {
  Home home;
  MainWindow& window = home.Open();
  QTest::keyClicks(window.focusWidget(), "Jo");
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(Reaches(window, PageId::kAbout));
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(Reaches(window, PageId::kSafety));
  for (int i = 0; i < 10 && !AskedNow(window).isEmpty(); ++i) {
    ASSERT_TRUE(Choose(window, AskedNow(window) == "pain" ? "yes" : "no"));
  }
  EXPECT_EQ(window.shown(), PageId::kSafety);
  EXPECT_EQ(ShownButton(window, "continue"), nullptr);
  ASSERT_TRUE(Choose(window, "practice"));
  ASSERT_TRUE(Reaches(window, PageId::kLearn));
  EXPECT_TRUE(home.context().practice);
  // The next start knows it.
  Home again(home.file());
  again.Open();
  again.window().Show(PageId::kMeasure);
  EXPECT_EQ(again.window().shown(), PageId::kSafety);
}

TEST(FirstRunTest, LeavingPracticeIsSaidAndForgetsNothingThatWasTyped) {
  Home home;
  MainWindow& window = home.Open();
  auto fields = window.page()->findChildren<QLineEdit*>();
  QTest::keyClicks(fields.at(0), "Mira");
  QTest::keyClicks(fields.at(1), "2017");
  ASSERT_TRUE(Choose(window, "practice"));
  ASSERT_TRUE(home.context().practice);
  window.Show(PageId::kHome);
  ASSERT_TRUE(Choose(window, "practice"));  // leaves it
  ASSERT_EQ(window.shown(), PageId::kWelcome);
  EXPECT_FALSE(home.context().practice);
  fields = window.page()->findChildren<QLineEdit*>();
  EXPECT_EQ(fields.at(0)->text(), "Mira");
  EXPECT_EQ(fields.at(1)->text(), "2017");
  // Whoever types a name in practice reads that this leaves it.
  home.context().practice = true;
  window.Show(PageId::kWelcome);
  bool said = false;
  for (const QPushButton* button : window.page()->findChildren<QPushButton*>()) {
    if (button->property("role") == "next") said = button->text().contains("Leave practice");
  }
  EXPECT_TRUE(said);
}

TEST(FirstRunTest, AWrongYearStaysAndIsSaid) {
  Home home;
  MainWindow& window = home.Open();
  auto* year = window.page()->findChildren<QLineEdit*>().at(1);
  QTest::keyClicks(window.focusWidget(), "Jo");
  QTest::keyClicks(year, "1890");
  PressKey(window, Qt::Key_Return);
  HandleEvents();
  EXPECT_EQ(year->text(), "1890");
  EXPECT_TRUE(window.page()->findChild<QLabel*>("wrong_year")->isVisible());
  // An adult beside a child is no tick of the past.
  year->setText("2017");
  EXPECT_TRUE(window.page()->findChild<QLabel*>("adult")->isVisible());
  EXPECT_FALSE(window.page()->findChild<QLabel*>("wrong_year")->isVisible());
}

TEST(FirstRunTest, BeginsAtHomeTheNextTime) {
  Home first;
  Person person;
  person.name = "Mira";
  ASSERT_TRUE(first.store().AddPerson(person));
  Home again(first.file());
  EXPECT_EQ(again.Open().shown(), PageId::kHome);
  EXPECT_EQ(again.context().person->name, "Mira");
}

// A missing camera is a sentence, and the way on stays open.
TEST(FirstRunTest, GoesOnWithoutACamera) {
  Home home;
  MainWindow& window = home.Open();
  home.context().first_run = true;
  home.context().open_source = [](const AppContext&) -> OpenLiveSource {
    return []() -> Result<LiveSource> { return Fail(ErrorCode::kNotFound, "no such camera."); };
  };
  window.Show(PageId::kCamera);
  ASSERT_TRUE(RunUntil([&] { return !home.live().running(); }));
  QCoreApplication::processEvents();
  bool said = false;
  for (const QLabel* label : window.page()->findChildren<QLabel*>()) {
    said = said || (label->isVisible() && label->text().contains("No camera was found"));
  }
  EXPECT_TRUE(said);
  PressKey(window, Qt::Key_Return);
  EXPECT_TRUE(Reaches(window, PageId::kCard));
}

}  // namespace
}  // namespace nearpoint
