// The settings, by keyboard: what is chosen holds at once, and is there the next time.
#include <gmock/gmock.h>

#include <QCheckBox>
#include <QComboBox>
#include <cstdlib>

#include "app/window/language.h"
#include "app/window/look.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"

namespace nearpoint {
namespace {

class SettingsPageTest : public testing::Test {
 protected:
  SettingsPageTest() {
    Person person;
    person.name = "Mira";
    EXPECT_TRUE(home_.store().AddPerson(person));
    home_.Open();
    home_.window().Show(PageId::kSettings);
  }
  ~SettingsPageTest() override {
    UseLanguage("en");
    look::SetScale(1);
  }
  // Tab until it has the focus.
  QWidget* Reach(const char* name) {
    MainWindow& window = home_.window();
    for (int i = 0; i < 40; ++i) {
      QWidget* const focus = window.focusWidget();
      if (focus != nullptr && focus->objectName() == name) return focus;
      PressKey(window, Qt::Key_Tab);
    }
    return nullptr;
  }
  // The entry with that value, by the arrow keys and without opening the list.
  void Choose(const char* box_name, const QVariant& value) {
    auto* const box = static_cast<QComboBox*>(Reach(box_name));
    ASSERT_NE(box, nullptr);
    const int wanted = box->findData(value);
    ASSERT_GE(wanted, 0);
    const Qt::Key key = wanted > box->currentIndex() ? Qt::Key_Down : Qt::Key_Up;
    const int steps = std::abs(wanted - box->currentIndex());
    for (int i = 0; i < steps; ++i) {
      // The page is made anew with each step.
      PressKey(home_.window(), key);
      for (int k = 0; k < 10; ++k) QCoreApplication::processEvents();
      ASSERT_NE(Reach(box_name), nullptr);
    }
  }

  Home home_;
};

TEST_F(SettingsPageTest, TheLanguageChangesTheWindowAndItsNumbers) {
  EXPECT_EQ(home_.window().page()->accessibleName(), "Settings");
  Choose("language", "de");
  EXPECT_EQ(LanguageInUse(), "de");
  EXPECT_EQ(home_.window().page()->accessibleName(), "Einstellungen");
  EXPECT_EQ(Centimeters(82), QString("8,2\u00a0cm"));
  EXPECT_EQ(home_.store().Setting("language"), "de");
}

TEST_F(SettingsPageTest, TextGrowsToTwiceItsSize) {
  const double before = home_.window().page()->font().pointSizeF();
  Choose("text_size", 200);
  EXPECT_NEAR(home_.window().page()->font().pointSizeF(), 2 * before, 0.1);
  EXPECT_EQ(home_.store().Setting("text_percent"), "200");
}

TEST_F(SettingsPageTest, TonesAndWordsCanBeSwitchedOff) {
  ASSERT_TRUE(home_.sound().on());
  ASSERT_NE(Reach("sound"), nullptr);
  PressKey(home_.window(), Qt::Key_Space);
  EXPECT_FALSE(home_.sound().on());
  EXPECT_EQ(home_.store().Setting("sound"), "off");
  PressKey(home_.window(), Qt::Key_Space);
  EXPECT_TRUE(home_.sound().on());
  EXPECT_EQ(home_.store().Setting("sound"), "on");
}

}  // namespace
}  // namespace nearpoint
