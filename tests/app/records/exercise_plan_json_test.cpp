#include "app/records/exercise_plan_json.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;

json Good() {
  return json::parse(R"({"schema": "nearpoint/exercise-plan/1", "source": "clinician",
      "set_by": "A. Optometrist", "repetitions": 12, "hold_s": 4.5, "levels_mm": [180, 120, 90],
      "first_level": 2, "days_per_week": 5, "time_of_day": "morning", "starts": "2026-08-03",
      "until": "2026-10-25", "note": "Rest when it strains."})");
}

Result<ExercisePlan> Parse(const json& document) {
  return ParseExercisePlan(document.dump(), "plan.json");
}

TEST(ExercisePlanJson, ReadsEveryField) {
  const auto plan = Parse(Good());
  ASSERT_THAT(plan, IsOk());
  EXPECT_EQ(plan->source, PlanSource::kClinician);
  EXPECT_EQ(plan->set_by, "A. Optometrist");
  EXPECT_EQ(plan->repetitions, 12);
  EXPECT_EQ(plan->hold_s, 4.5);
  ASSERT_EQ(plan->levels.size(), 3U);
  EXPECT_EQ(plan->levels[2].mm(), 90);
  EXPECT_EQ(plan->first_level, 2);
  EXPECT_EQ(plan->days_per_week, 5);
  EXPECT_TRUE(plan->mornings);
  EXPECT_EQ(DayToText(plan->starts.value()), "2026-08-03");
  EXPECT_EQ(DayToText(plan->until.value()), "2026-10-25");
  EXPECT_EQ(plan->note, "Rest when it strains.");
}

TEST(ExercisePlanJson, GoesRoundUnchanged) {
  for (const bool common : {false, true}) {
    const ExercisePlan plan = common ? CommonPracticePlan() : Parse(Good()).value();
    const std::string text = SerializeExercisePlan(plan);
    const auto again = ParseExercisePlan(text, "again");
    ASSERT_THAT(again, IsOk());
    EXPECT_EQ(SerializeExercisePlan(*again), text);
    EXPECT_EQ(again->levels, plan.levels);
    EXPECT_EQ(again->until, plan.until);
  }
}

struct Slip {
  const char* field;
  json value;
  const char* words;
};

TEST(ExercisePlanJson, NamesFileFieldAndWhatWasExpected) {
  const Slip slips[] = {
      {"schema", "nearpoint/profile/1", "exercise-plan"},
      {"schema", "nearpoint/exercise-plan/2", "exercise-plan"},
      {"source", "doctor", "\"clinician\" or \"common practice\""},
      {"set_by", nullptr, "the name of the clinician"},
      {"repetitions", 0, "from 1 to 100"},
      {"repetitions", 2.5, "a number of repetitions"},
      {"hold_s", 5000, "seconds from 1 to 60"},
      {"levels_mm", json::array({18, 12, 9}), "from 40 to 600 mm"},
      {"levels_mm", json::array({90, 120}), "each nearer than the one before"},
      {"levels_mm", json::array(), "1 to 20 distances"},
      {"levels_mm", json::array({180, "120"}), "1 to 20 distances"},
      {"levels_mm", 180, "a list"},
      {"first_level", 4, "from 1 to 3"},
      {"days_per_week", 8, "from 1 to 7"},
      {"time_of_day", "noon", "\"morning\" or \"any\""},
      {"starts", "3.8.2026", "YYYY-MM-DD, or null"},
      {"until", "2026-02-30", "YYYY-MM-DD, or null"},
      {"until", "2026-08-02", "not before \"starts\""},
      {"note", 7, "words to the patient, or null"},
      {"stop_when", json::array({""}), "at most 10 sentences"},
      {"stop_when", json::array({1}), "at most 10 sentences"},
      {"measure_on", json::array({"2026-08-31", "2026-08-17"}), "each after the one before"},
      {"measure_on", json::array({"17.8.2026"}), "dates as YYYY-MM-DD"},
  };
  for (const Slip& slip : slips) {
    json document = Good();
    document[slip.field] = slip.value;
    EXPECT_THAT(Parse(document),
                FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("plan.json"), HasSubstr(slip.field),
                                                      HasSubstr(slip.words))))
        << slip.field;
  }
}

TEST(ExercisePlanJson, StopRulesAndDatesMayBeLeftOutAndGoRound) {
  EXPECT_TRUE(Parse(Good())->stop_when.empty() && Parse(Good())->measure_on.empty());
  json document = Good();
  document["stop_when"] = {"It hurts.", "Double vision stays."};
  document["measure_on"] = {"2026-08-17", "2026-08-31"};
  const auto plan = Parse(document);
  ASSERT_THAT(plan, IsOk());
  const auto again = ParseExercisePlan(SerializeExercisePlan(*plan), "again");
  ASSERT_THAT(again, IsOk());
  EXPECT_THAT(again->stop_when, ::testing::ElementsAre("It hurts.", "Double vision stays."));
  EXPECT_EQ(again->measure_on, plan->measure_on);
  EXPECT_EQ(DayToText(again->measure_on.at(1)), "2026-08-31");
}

TEST(ExercisePlanJson, MissingAndMisspeltFields) {
  const json good = Good();
  for (const auto& [name, value] : good.items()) {
    json document = Good();
    document.erase(name);
    EXPECT_THAT(Parse(document), FailsWith(ErrorCode::kNotFound, HasSubstr(name)));
  }
  json document = Good();
  document["hold_ss"] = 5;
  EXPECT_THAT(Parse(document), FailsWith(ErrorCode::kBadValue, HasSubstr("hold_ss")));
  EXPECT_THAT(ParseExercisePlan("[]", "plan.json"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("plan.json")));
  EXPECT_THAT(ParseExercisePlan("{", "plan.json"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("not JSON")));
  EXPECT_THAT(ReadExercisePlan("/nowhere/plan.json"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("/nowhere/plan.json")));
}

TEST(ExercisePlanJson, Days) {
  EXPECT_EQ(DayToText(Day(std::chrono::year(2024) / 2 / 29)), "2024-02-29");
  EXPECT_EQ(ParseDay("2024-02-29"), Day(std::chrono::year(2024) / 2 / 29));
  for (const char* bad :
       {"", "2024-2-9", "2023-02-29", "2024-00-10", "2024/02/29", "2024-02-29 "}) {
    EXPECT_FALSE(ParseDay(bad)) << bad;
  }
}

}  // namespace
}  // namespace nearpoint
