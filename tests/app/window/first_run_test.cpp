// The first run from the name to the start page, by keyboard alone.
#include <gmock/gmock.h>

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTest>

#include "app/window/percept.h"
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
  ASSERT_TRUE(Reaches(window, PageId::kCautions));
  PressKey(window, Qt::Key_Return);
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
  window.Show(PageId::kCautions);
  PressKey(window, Qt::Key_Escape);
  EXPECT_TRUE(Reaches(window, PageId::kAbout));
}

TEST(FirstRunTest, WhoHasASignFromTheCautionsIsLedToPracticeOnly) {
  Home home;
  MainWindow& window = home.Open();
  window.Show(PageId::kCautions);
  for (QPushButton* button : window.page()->findChildren<QPushButton*>()) {
    if (button->text() == "Something here applies") button->click();
  }
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(Reaches(window, PageId::kLearn));
  EXPECT_TRUE(home.context().practice);
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
