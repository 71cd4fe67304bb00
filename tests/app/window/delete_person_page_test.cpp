// "Delete this person" by keyboard: what is said, asked twice, and gone from file and keyring.
#include <gmock/gmock.h>

#include <QLabel>
#include <QPushButton>
#include <QTest>

#include "app/window/send/token_field.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/keyring_for_tests.h"
#include "tests/app/window/press_driver.h"
#include "tests/app/window/stored_session.h"

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::Field;
using testing::IsEmpty;
using testing::SizeIs;

constexpr const char* kServer = "https://records.example/fhir";

class DeletePersonPageTest : public testing::Test {
 protected:
  DeletePersonPageTest() {
    mira_ = Add("Mira");
    AddSession(home_.store(), mira_, {ComputedTrial(1, 92, 121), ComputedTrial(2, 95, 124)});
    EXPECT_TRUE(home_.store().SetSetting("fhir_server", kServer));
    EXPECT_TRUE(home_.store().SetSetting("left:1", "2026-03-14"));
    keyring_.secrets[TokenName(kServer)] = "secret";
    home_.context().keyring = &keyring_;
  }
  RowId Add(const QString& name) { return home_.store().AddPerson({0, name, 1990}).value().id; }
  void Settle() {
    for (int i = 0; i < 10; ++i) QCoreApplication::processEvents();
  }
  // Tab until that button has the focus, then Return.
  void Take(const char* button) {
    for (int i = 0; i < 40; ++i) {
      QWidget* const focus = home_.window().focusWidget();
      if (focus != nullptr && focus->objectName() == button) break;
      PressKey(home_.window(), Qt::Key_Tab);
    }
    ASSERT_EQ(home_.window().focusWidget()->objectName(), button);
    PressKey(home_.window(), Qt::Key_Return);
    Settle();
  }
  bool Says(const QString& words) {
    for (const QLabel* label : home_.window().page()->findChildren<QLabel*>()) {
      if (label->isVisible() && label->text().contains(words)) return true;
    }
    return false;
  }

  KeyringForTests keyring_;
  Home home_;
  RowId mira_ = 0;
};

TEST_F(DeletePersonPageTest, AsksTwiceAndThenNothingIsLeft) {
  MainWindow& window = home_.Open();
  window.Show(PageId::kSettings);
  Take("delete_person");
  ASSERT_EQ(window.shown(), PageId::kDeletePerson);
  EXPECT_TRUE(Says("1 measurement, 2 trials in them"));
  EXPECT_TRUE(Says("token in the keyring"));
  // Return twice where one is keeps everything: the focus is on "keep".
  Take("delete");
  EXPECT_THAT(*home_.store().People(), SizeIs(1));
  EXPECT_EQ(window.focusWidget()->objectName(), "keep");
  PressKey(window, Qt::Key_Return);
  Settle();
  EXPECT_EQ(window.shown(), PageId::kSettings);
  EXPECT_THAT(*home_.store().People(), SizeIs(1));

  window.Show(PageId::kDeletePerson);
  Take("delete");
  Take("really");
  EXPECT_THAT(*home_.store().People(), IsEmpty());
  EXPECT_THAT(*home_.store().Sessions(mira_), IsEmpty());
  EXPECT_TRUE(Says("Nothing about Mira is left"));
  EXPECT_THAT(keyring_.secrets, IsEmpty());
  EXPECT_EQ(home_.store().Setting("fhir_server"), QString());
  EXPECT_EQ(home_.store().Setting("left:1"), QString());
  EXPECT_FALSE(home_.context().person);
  PressKey(window, Qt::Key_Return);
  Settle();
  EXPECT_EQ(window.shown(), PageId::kWelcome);
}

TEST_F(DeletePersonPageTest, TheOthersKeepWhatIsTheirsAndTheToken) {
  const RowId jo = Add("Jo");
  AddSession(home_.store(), jo, {ComputedTrial(1, 60, 80)});
  MainWindow& window = home_.Open();
  ASSERT_EQ(home_.context().person->name, "Mira");
  window.Show(PageId::kDeletePerson);
  EXPECT_TRUE(Says("stays for the others"));
  Take("delete");
  Take("really");
  EXPECT_THAT(*home_.store().People(), ElementsAre(Field(&Person::name, "Jo")));
  EXPECT_THAT(*home_.store().Sessions(jo), SizeIs(1));
  EXPECT_THAT(keyring_.secrets, SizeIs(1));
  EXPECT_EQ(home_.store().Setting("fhir_server"), kServer);
  PressKey(window, Qt::Key_Return);
  Settle();
  EXPECT_EQ(window.shown(), PageId::kHome);
  EXPECT_EQ(home_.context().person->name, "Jo");
}

// The bar on top names whoever the page is about, and at an event nobody of this home.
TEST_F(DeletePersonPageTest, TheNameOfTheHomeStandsOnNoPageOfAnEvent) {
  MainWindow& window = home_.Open();
  const auto on_top = [&] {
    QStringList texts;
    for (const QLabel* label : window.findChild<QWidget*>("bar")->findChildren<QLabel*>()) {
      texts << label->text();
    }
    return texts.join(' ');
  };
  EXPECT_TRUE(on_top().contains("Mira"));
  for (const PageId page : {PageId::kEvent, PageId::kEventSetUp, PageId::kEventRoster,
                            PageId::kStation, PageId::kStationDone, PageId::kEventAfter}) {
    window.Show(page);
    EXPECT_FALSE(on_top().contains("Mira")) << static_cast<int>(page);
    EXPECT_TRUE(on_top().contains("School event")) << static_cast<int>(page);
  }
  window.Show(PageId::kClinic);
  EXPECT_FALSE(on_top().contains("Mira"));
  window.Show(PageId::kPast);
  EXPECT_TRUE(on_top().contains("Mira"));
}

}  // namespace
}  // namespace nearpoint
