// "99,5" is 99.5 in each language.
#include "app/window/length_box.h"

#include <gmock/gmock.h>

#include <QTest>

#include "app/window/language.h"

namespace nearpoint {
namespace {

TEST(LengthBoxTest, TakesAPointAndAComma) {
  for (const char* language : {"en", "de"}) {
    UseLanguage(language);
    for (const char* typed : {"99,5", "99.5"}) {
      LengthBox box;
      box.setRange(0, 200);
      box.show();
      box.selectAll();
      QTest::keyClicks(&box, typed);
      box.interpretText();
      EXPECT_EQ(box.value(), 99.5) << language << ' ' << typed;
    }
  }
  UseLanguage("en");
}

}  // namespace
}  // namespace nearpoint
