// One number is the same wherever it is shown.
#include "app/measure/shown_number.h"

#include <gmock/gmock.h>

namespace nearpoint {
namespace {

TEST(ShownNumber, RoundsHalvesAwayFromZero) {
  // 5 cm from the spectacle plane, counted from the cornea: 63.5 mm.
  EXPECT_EQ(ShownCentimeters(63.5), "6.4 cm");
  EXPECT_EQ(ShownCentimeters(62.5), "6.3 cm");
  EXPECT_EQ(ShownCentimeters(63.49), "6.3 cm");
  EXPECT_EQ(ShownCentimeters(65, 0), "7 cm");
  EXPECT_EQ(ShownNumber(62.5, 0), "63");
  EXPECT_EQ(ShownNumber(-62.5, 0), "-63");
  EXPECT_EQ(ShownNumber(0.345, 2), "0.35");
  for (int tenths = 0; tenths < 3000; ++tenths) {
    const double mm = tenths / 2.0 + 0.5;  // every half millimetre
    EXPECT_NEAR(RoundedForShow(mm / 10, 1) * 10, mm + (tenths % 2 == 0 ? 0.5 : 0), 0.51) << mm;
    EXPECT_GE(RoundedForShow(mm / 10, 1) * 10, mm - 0.5 + 1e-9) << mm;
  }
}

}  // namespace
}  // namespace nearpoint
