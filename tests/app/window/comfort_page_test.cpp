// "How do your eyes feel now?" takes no key that was meant for what stood before it.
#include "app/window/pages/comfort_page.h"

#include <gmock/gmock.h>

#include <QLabel>
#include <QTest>

#include "app/window/language.h"
#include "app/window/look.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"
#include "tests/app/window/stored_session.h"

namespace nearpoint {
namespace {

using std::chrono::milliseconds;

class ComfortPageTest : public testing::Test {
 protected:
  ComfortPageTest() {
    Person person;
    person.name = "Mira";
    const RowId id = home_.store().AddPerson(person).value().id;
    home_.Open();
    home_.context().ticks = [this] { return ticks_; };
    session_ = AddSession(home_.store(), id, {ComputedTrial(1, 92, 121)});
    home_.context().session = session_;
    Show();
  }
  void Show() {
    home_.context().session = session_;
    window().Show(PageId::kComfort);
    HandleEvents();
  }
  MainWindow& window() { return home_.window(); }
  QWidget* Focus() {
    QWidget* const focus = window().focusWidget();
    return focus != nullptr ? focus : &window();
  }
  // As a keyboard sends it while the key is held.
  void Repeat(Qt::Key key) {
    for (const auto type : {QEvent::KeyRelease, QEvent::KeyPress}) {
      QKeyEvent event(type, key, Qt::NoModifier, QString(), /*autorep=*/true);
      QCoreApplication::sendEvent(Focus(), &event);
    }
    HandleEvents();
  }
  QString Comfort() { return home_.store().FindSession(session_).value().comfort; }

  milliseconds ticks_{10000};
  Home home_;
  RowId session_ = 0;
};

TEST_F(ComfortPageTest, NoAnswerIsChosenBeforehand) {
  ticks_ += std::chrono::hours(1);
  for (const Qt::Key key : {Qt::Key_Return, Qt::Key_Space, Qt::Key_Enter}) {
    PressKey(window(), key);
    HandleEvents();
    EXPECT_EQ(window().shown(), PageId::kComfort);
  }
  EXPECT_EQ(Comfort(), "");
}

TEST_F(ComfortPageTest, KeysAndClicksOfTheFirstMomentAreNotTaken) {
  const auto no_answer = [this] {
    for (const char* name : {"fine", "double"}) {
      QPushButton* const button = ShownButton(window(), name);
      button->setFocus();
      PressKey(window(), Qt::Key_Return);
      PressKey(window(), Qt::Key_Space);
      QTest::mouseClick(button, Qt::LeftButton);
      QTest::mouseDClick(button, Qt::LeftButton);
    }
    PressKey(window(), Qt::Key_Escape);
    HandleEvents();
    return window().shown() == PageId::kComfort && Comfort().isEmpty();
  };
  EXPECT_TRUE(no_answer());
  ticks_ += AnswerGuard::kAfterKeys - milliseconds(1);
  EXPECT_TRUE(no_answer());
  EXPECT_GE(AnswerGuard::kAfterKeys, milliseconds(1500));
  ticks_ += milliseconds(1);
  ShownButton(window(), "fine")->setFocus();
  PressKey(window(), Qt::Key_Return);
  HandleEvents();
  EXPECT_EQ(window().shown(), PageId::kResult);
  EXPECT_EQ(Comfort(), "fine");
}

TEST_F(ComfortPageTest, AKeyThatIsHeldCountsOnlyAfterItWasLetGo) {
  ticks_ += std::chrono::hours(1);
  ShownButton(window(), "fine")->setFocus();
  for (int i = 0; i < 20; ++i) Repeat(Qt::Key_Return);
  EXPECT_EQ(window().shown(), PageId::kComfort);
  QTest::keyRelease(Focus(), Qt::Key_Return);
  HandleEvents();
  EXPECT_EQ(window().shown(), PageId::kComfort);
  PressKey(window(), Qt::Key_Return);
  HandleEvents();
  EXPECT_EQ(window().shown(), PageId::kResult);
}

TEST_F(ComfortPageTest, AllAnswersAreInViewWithLargeText) {
  for (const char* language : {"en", "de"}) {
    UseLanguage(language);
    look::SetScale(2);
    home_.Open();
    window().resize(1024, 600);
    Show();
    for (const char* name : {"fine", "tired", "discomfort", "double"}) {
      const auto* button = ShownButton(window(), name);
      ASSERT_NE(button, nullptr);
      EXPECT_EQ(button->visibleRegion().boundingRect(), button->rect()) << language << ' ' << name;
    }
  }
  look::SetScale(1);
  UseLanguage("en");
}

}  // namespace
}  // namespace nearpoint
