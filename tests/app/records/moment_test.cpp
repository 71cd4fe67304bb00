#include "app/records/moment.h"

#include <gmock/gmock.h>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

TEST(MomentTest, ReadsDaysAndHours) {
  const auto full = ParseMoment("2026-03-02T07:45:30+01:00");
  ASSERT_THAT(full, IsOk());
  EXPECT_EQ(full->text, "2026-03-02T07:45:30+01:00");
  EXPECT_NEAR(*full->hour, 7 + 45 / 60.0 + 30 / 3600.0, 1e-12);
  EXPECT_EQ(full->day, 20514);  // days from 1970-01-01: `date -d 2026-03-02 +%s` / 86400
  EXPECT_EQ(ParseMoment("1970-01-01")->day, 0);
  EXPECT_FALSE(ParseMoment("2024-02-29")->hour);
  EXPECT_NEAR(ParseMoment("1970-01-02")->days(), 1.5, 1e-12);
  for (const char* text :
       {"2026-03-02 07:45", "2026-03-02T07:45Z", "2026-03-02T07:45:30.123-05:30"})
    EXPECT_THAT(ParseMoment(text), IsOk()) << text;
}

TEST(MomentTest, RefusesWhatIsNoMoment) {
  for (const char* text : {"",
                           "today",
                           "2026",
                           "2026-03",
                           "2026-3-2",
                           "02.03.2026",
                           "2026-02-30",
                           "2025-02-29",
                           "2026-13-01",
                           "2026-00-10",
                           "2026-03-02T",
                           "2026-03-02T7:45",
                           "2026-03-02T24:00",
                           "2026-03-02T07:60",
                           "2026-03-02T07:45+1",
                           "2026-03-02T07:45:00 CET",
                           "2026-03-02x",
                           "-026-03-02",
                           "0026-03-02",
                           "9026-03-02",
                           "2026--3-02",
                           "2026-03-02T07:-5"}) {
    const auto moment = ParseMoment(text);
    ASSERT_FALSE(moment) << text;
    EXPECT_EQ(moment.error().code, ErrorCode::kBadValue);
    EXPECT_THAT(moment.error().message, testing::HasSubstr("2026-03-02T07:45"));
  }
}

}  // namespace
}  // namespace nearpoint
