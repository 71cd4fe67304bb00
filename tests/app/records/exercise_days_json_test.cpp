#include "app/records/exercise_days_json.h"

#include <gmock/gmock.h>

#include "app/records/exercise_plan_json.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::SizeIs;

TEST(ExerciseDaysJson, GoesRoundUnchanged) {
  std::vector<ExerciseDay> days(2);
  days[0].entry.day = ParseDay("2026-03-02").value();
  days[0].entry.counted = 8;
  days[0].entry.asked = 10;
  days[0].entry.reach = UncertainLength{Length::Millimeters(112.5), Length::Millimeters(3.1)};
  days[0].comfort = "double";
  days[1].entry.day = ParseDay("2026-03-03").value();
  const std::string text = SerializeExerciseDays(days);
  const auto again = ParseExerciseDays(text, "days.json");
  ASSERT_THAT(again, IsOk());
  EXPECT_EQ(SerializeExerciseDays(*again), text);
  ASSERT_THAT(*again, SizeIs(2));
  EXPECT_EQ((*again)[0].entry.reach->value.mm(), 112.5);
  EXPECT_EQ((*again)[0].comfort, "double");
  EXPECT_FALSE((*again)[1].entry.reach);
}

TEST(ExerciseDaysJson, NamesThePlaceOfWhatIsWrong) {
  const auto with = [](const std::string& fields) {
    return ParseExerciseDays(
        R"({"schema": "nearpoint/exercise-days/1", "days": [{)" + fields + "}]}", "d.json");
  };
  EXPECT_THAT(
      with(R"("day": "2026-02-30", "counted": 1, "asked": 1, "reach_mm": null,
                      "reach_sd_mm": null, "comfort": null)"),
      FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("days[0].day"), HasSubstr("d.json"))));
  EXPECT_THAT(with(R"("day": "2026-02-03", "counted": -1, "asked": 1, "reach_mm": null,
                      "reach_sd_mm": null, "comfort": null)"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("counted")));
  EXPECT_THAT(with(R"("day": "2026-02-03", "counted": 1, "asked": 1, "reach_mm": 90,
                      "reach_sd_mm": null, "comfort": null)"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("reach_sd_mm")));
}

}  // namespace
}  // namespace nearpoint
