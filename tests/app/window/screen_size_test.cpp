// The size of the screen by a card, and the letter that is shown by it.
#include <gmock/gmock.h>

#include <QLabel>
#include <QPainter>

#include "app/window/exercise/dot_size.h"
#include "app/window/exercise/screen_card.h"
#include "app/window/screen_letter.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"

namespace nearpoint {
namespace {

bool Reaches(const MainWindow& window, PageId page) {
  for (int i = 0; i < 100 && window.shown() != page; ++i) QCoreApplication::processEvents();
  return window.shown() == page;
}

TEST(ScreenSizeTest, ACardIsMatchedByKeyboardAndKept) {
  Home home;
  MainWindow& window = home.Open();
  window.Show(PageId::kCardScreen);
  auto* card = window.page()->findChild<ScreenCard*>();
  ASSERT_NE(card, nullptr);
  const double before = card->mm_per_dot();
  for (int i = 0; i < 5; ++i) PressKey(window, Qt::Key_Right);
  const double matched = card->mm_per_dot();
  EXPECT_LT(matched, before);  // a larger outline: smaller dots
  PressKey(window, Qt::Key_Return);
  if (window.shown() != PageId::kCard) {
    // It differs from what the screen says of itself, which is said first.
    EXPECT_FALSE(window.page()->findChildren<QLabel*>().empty());
    QCoreApplication::processEvents();
    if (window.shown() != PageId::kCard) PressKey(window, Qt::Key_Return);
  }
  ASSERT_TRUE(Reaches(window, PageId::kCard));
  const DotSize kept = DotSizeOf(window, home.store());
  EXPECT_TRUE(kept.measured);
  EXPECT_NEAR(kept.mm_per_dot, matched, 1e-6);
}

TEST(ScreenSizeTest, EscapeKeepsNothing) {
  Home home;
  MainWindow& window = home.Open();
  window.Show(PageId::kCardScreen);
  PressKey(window, Qt::Key_Right);
  PressKey(window, Qt::Key_Escape);
  ASSERT_TRUE(Reaches(window, PageId::kCard));
  EXPECT_FALSE(DotSizeOf(window, home.store()).measured);
}

// 0.1745 mm are 1.5 minutes of arc at 400 mm.
TEST(ScreenLetterTest, IsAsFineAsTheScreenAllows) {
  EXPECT_EQ(StrokeDots(0.265), 1);  // 96 dots to the inch
  EXPECT_EQ(StrokeDots(0.18), 1);
  EXPECT_EQ(StrokeDots(0.11), 2);
  EXPECT_EQ(StrokeDots(0.058), 3);
  EXPECT_EQ(StrokeDots(0), 2);
  EXPECT_NEAR(StrokeWidth(0.11)->mm(), 0.22, 1e-12);
  EXPECT_FALSE(StrokeWidth(0));
}

// Counted in the picture: the middle bar of the E is one stroke high and five wide.
TEST(ScreenLetterTest, IsDrawnInWholeDots) {
  for (const double mm_per_dot : {0.265, 0.11, 0.058}) {
    ScreenLetter letter(mm_per_dot);
    const QImage picture = letter.grab().toImage();
    const int stroke = StrokeDots(mm_per_dot);
    int dark = 0;
    const QRect middle(picture.width() / 2 - 4 * stroke, picture.height() / 2 - 4 * stroke,
                       8 * stroke, 8 * stroke);
    for (int y = middle.top(); y <= middle.bottom(); ++y) {
      for (int x = middle.left(); x <= middle.right(); ++x) {
        if (qGray(picture.pixel(x, y)) < 90) ++dark;
      }
    }
    // An E of 5 x 5: three bars of five and two single strokes between them. The leading lines are
    // grey and farther away.
    EXPECT_EQ(dark, 17 * stroke * stroke) << mm_per_dot;
  }
}

}  // namespace
}  // namespace nearpoint
