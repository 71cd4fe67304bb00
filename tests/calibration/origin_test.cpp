#include "calibration/origin.h"

#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "calibration/profile_json.h"
#include "tests/support/cli.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;

std::chrono::sys_days Day(const char* text) { return ParseDay(text).value(); }

Origin Made(const char* day, const char* device, const char* person) {
  return {Day(day), device, person, "0.1.0", "test"};
}

ProfileOrigins Complete() {
  return {Made("2026-01-10", "Cam A", ""), Made("2026-01-10", "Cam A", "Ann"),
          Made("2026-01-10", "Cam A", ""), Made("2026-01-10", "", "Ann"),
          Made("2026-01-10", "", "")};
}

TEST(OriginTest, DaysAreReadAndWritten) {
  EXPECT_EQ(FormatDay(Day("2024-02-29")), "2024-02-29");
  EXPECT_EQ(Day("1970-01-02").time_since_epoch().count(), 1);
  for (const char* wrong : {"", "2026-2-3", "2023-02-29", "2026-13-01", "01.02.2026", "2026-01-01T",
                            "2026-01-0a", "20260101  "}) {
    EXPECT_FALSE(ParseDay(wrong).has_value()) << wrong;
  }
}

TEST(OriginTest, PartsThatBelongTogetherPass) {
  EXPECT_THAT(CheckBelongs(Complete(), {Day("2026-02-01"), "Cam A", "Ann"}, "p.json"), IsOk());
  // What nobody said is not held against anybody.
  EXPECT_THAT(CheckBelongs(Complete(), {Day("2026-02-01"), "", ""}, "p.json"), IsOk());
  EXPECT_THAT(CheckBelongs({}, {Day("2026-02-01"), "Cam B", "Ben"}, "p.json"), IsOk());
  EXPECT_THAT(AgeCautions(Complete(), Day("2026-02-01")), IsEmpty());
}

TEST(OriginTest, NamesBothWhereTheyAreMixedUp) {
  const Present nobody{Day("2026-02-01"), "", ""};
  ProfileOrigins made = Complete();
  made.lag->person = "Ben";
  EXPECT_THAT(CheckBelongs(made, nobody, "p.json"),
              FailsWith(ErrorCode::kMismatch,
                        AllOf(HasSubstr("p.json"), HasSubstr("Ann"), HasSubstr("Ben"))));
  made = Complete();
  made.target->device = "Cam B";
  EXPECT_THAT(CheckBelongs(made, nobody, "p.json"),
              FailsWith(ErrorCode::kMismatch, AllOf(HasSubstr("Cam A"), HasSubstr("Cam B"))));
  EXPECT_THAT(CheckBelongs(Complete(), {Day("2026-02-01"), "", "Ben"}, "p.json"),
              FailsWith(ErrorCode::kMismatch, AllOf(HasSubstr("Ann"), HasSubstr("Ben"))));
  EXPECT_THAT(CheckBelongs(Complete(), {Day("2026-02-01"), "Cam B", ""}, "p.json"),
              FailsWith(ErrorCode::kMismatch, AllOf(HasSubstr("Cam A"), HasSubstr("Cam B"))));
}

TEST(OriginTest, OldAndUnknownPartsAreSaid) {
  EXPECT_THAT(AgeCautions(Complete(), Day("2026-09-01")),
              AllOf(SizeIs(2),
                    Contains(AllOf(HasSubstr("face"), HasSubstr("7 months"),
                                   HasSubstr("nearpoint calibrate face"))),
                    Contains(HasSubstr("nearpoint calibrate screen"))));
  EXPECT_THAT(AgeCautions(Complete(), Day("2029-01-10")),
              AllOf(SizeIs(4), Contains(HasSubstr("3 years"))));
  EXPECT_THAT(AgeCautions({}, Day("2026-01-01")),
              AllOf(SizeIs(1), Contains(HasSubstr("not known"))));
  ProfileOrigins camera_only;
  camera_only.camera = Made("2026-01-01", "Cam A", "");
  EXPECT_THAT(AgeCautions(camera_only, Day("2026-01-02")),
              AllOf(SizeIs(3), Contains(HasSubstr("nearpoint calibrate face"))));
  EXPECT_THAT(AgeCautions(Complete(), Day("2025-12-01")),
              AllOf(SizeIs(4), Contains(HasSubstr("still to come"))));
}

TEST(OriginTest, AFaceByACardThatNobodyMeasuredIsSaid) {
  ProfileOrigins made = Complete();
  made.print.reset();
  EXPECT_THAT(AgeCautions(made, Day("2026-02-01")),
              AllOf(SizeIs(1), Contains(AllOf(HasSubstr("4 %"), HasSubstr("sheet --check")))));
  made.face.reset();
  EXPECT_THAT(AgeCautions(made, Day("2026-02-01")), Not(Contains(HasSubstr("printed card"))));
}

TEST(OriginTest, TravelsInTheProfile) {
  auto profile = ParseProfile(GoodProfile().dump(), "p.json");
  ASSERT_THAT(profile, IsOk());
  EXPECT_EQ(profile->made, ProfileOrigins{});
  profile->made = Complete();
  profile->print = PrintScale{1, 1, 0.003};  // without a size, its day means nothing
  profile->made.target.reset();
  const auto again = ParseProfile(SerializeProfile(*profile), "p.json");
  ASSERT_THAT(again, IsOk());
  EXPECT_EQ(again->made, profile->made);
}

TEST(OriginTest, DamagedOriginsAreNamed) {
  auto profile = ParseProfile(GoodProfile().dump(), "p.json");
  ASSERT_THAT(profile, IsOk());
  profile->made = Complete();
  const auto good = nlohmann::json::parse(SerializeProfile(*profile));
  auto bad = good;
  bad["origin"]["face"]["date"] = "1 May";
  EXPECT_THAT(
      ParseProfile(bad.dump(), "p.json"),
      FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("origin.face.date"), HasSubstr("1 May"))));
  bad = good;
  bad["origin"]["lag"].erase("software");
  EXPECT_THAT(ParseProfile(bad.dump(), "p.json"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("origin.lag.software")));
  bad = good;
  bad["origin"] = 3;
  EXPECT_THAT(ParseProfile(bad.dump(), "p.json"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("origin")));
}

}  // namespace
}  // namespace nearpoint
