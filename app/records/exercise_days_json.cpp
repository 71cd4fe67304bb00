#include "app/records/exercise_days_json.h"

#include "app/records/exercise_plan_json.h"
#include "app/records/json_number.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr int kMostRepetitions = 10000;
constexpr std::size_t kMostDays = 20000;

ExerciseDay ReadDay(JsonFields& fields) {
  ExerciseDay day;
  const auto date = ParseDay(fields.Text("day", "a date as YYYY-MM-DD"));
  if (!date) fields.Refuse("day", "a date as YYYY-MM-DD");
  day.entry.day = date.value_or(Day());
  day.entry.counted = fields.Integer("counted", 0, kMostRepetitions, "a number of repetitions");
  day.entry.asked = fields.Integer("asked", 0, kMostRepetitions, "a number of repetitions");
  const auto reach = fields.NumberOrNull("reach_mm", {1, 3000, "millimetres"});
  const auto sd = fields.NumberOrNull("reach_sd_mm", {0, 1000, "millimetres"});
  if (reach && !sd) fields.Refuse("reach_sd_mm", "a number beside \"reach_mm\"");
  if (reach) {
    day.entry.reach =
        UncertainLength{Length::Millimeters(*reach), Length::Millimeters(sd.value_or(0))};
  }
  day.comfort = fields.TextOrNull("comfort", "a word").value_or("");
  fields.RefuseMisspelt();
  return day;
}

}  // namespace

Result<std::vector<ExerciseDay>> ParseExerciseDays(std::string_view text,
                                                   const std::string& where) {
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  if (const auto schema = CheckSchema(*document, "exercise-days", where); !schema) {
    return tl::unexpected(schema.error());
  }
  JsonFields fields(*document, where);
  const nlohmann::json& array = fields.Array("days");
  if (fields.ok() && array.size() > kMostDays) fields.Refuse("days", "at most 20000 days");
  if (!fields.ok()) return tl::unexpected(*fields.error());
  std::vector<ExerciseDay> days;
  for (const nlohmann::json& item : array) {
    JsonFields of_day(item, where, "days[" + std::to_string(days.size()) + "].");
    days.push_back(ReadDay(of_day));
    if (!of_day.ok()) return tl::unexpected(*of_day.error());
  }
  return days;
}

std::string SerializeExerciseDays(const std::vector<ExerciseDay>& days) {
  OrderedJson json;
  json["schema"] = "nearpoint/exercise-days/1";
  json["days"] = OrderedJson::array();
  for (const ExerciseDay& day : days) {
    const auto& reach = day.entry.reach;
    OrderedJson item;
    item["day"] = DayToText(day.entry.day);
    item["counted"] = day.entry.counted;
    item["asked"] = day.entry.asked;
    item["reach_mm"] = JsonMm(reach ? std::optional(reach->value) : std::nullopt);
    item["reach_sd_mm"] = JsonMm(reach ? std::optional(reach->sd) : std::nullopt);
    item["comfort"] = day.comfort.empty() ? OrderedJson() : OrderedJson(day.comfort);
    json["days"].push_back(item);
  }
  return json.dump(2, ' ', false, OrderedJson::error_handler_t::replace) + '\n';
}

}  // namespace nearpoint
