#include "app/records/exercise_plan_json.h"

#include <array>
#include <cstdio>

#include "app/records/json_number.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr std::string_view kKind = "exercise-plan";
constexpr std::string_view kClinician = "clinician";
constexpr std::string_view kCommonPractice = "common practice";
constexpr double kNearestMm = 40;
constexpr double kFarthestMm = 600;
constexpr std::size_t kMostLevels = 20;
constexpr std::size_t kLongestText = 1000;
constexpr std::size_t kMostRules = 10;
constexpr std::size_t kMostDates = 50;

std::vector<Length> ReadLevels(JsonFields& fields) {
  const std::string expected =
      "1 to 20 distances from 40 to 600 mm, each nearer than the one "
      "before";
  const nlohmann::json& array = fields.Array("levels_mm");
  std::vector<Length> levels;
  if (!fields.ok()) return levels;
  bool good = !array.empty() && array.size() <= kMostLevels;
  for (const nlohmann::json& item : array) {
    const double mm = item.is_number() ? item.get<double>() : 0;
    good = good && mm >= kNearestMm && mm <= kFarthestMm &&
           (levels.empty() || mm < levels.back().mm());
    levels.push_back(Length::Millimeters(mm));
  }
  if (!good) fields.Refuse("levels_mm", expected);
  return levels;
}

std::optional<Day> ReadDay(JsonFields& fields, std::string_view name) {
  constexpr std::string_view kDate = "a date as YYYY-MM-DD";
  const auto text = fields.TextOrNull(name, kDate);
  if (!text) return std::nullopt;
  const auto day = ParseDay(*text);
  if (!day) fields.Refuse(name, std::string(kDate) + ", or null");
  return day;
}

std::string ReadWords(JsonFields& fields, std::string_view name, std::string_view meaning) {
  std::string text = fields.TextOrNull(name, meaning).value_or("");
  if (text.size() > kLongestText) fields.Refuse(name, "at most 1000 letters");
  return text;
}

// A list of texts that older plans are without.
std::vector<std::string> TextsIfThere(const nlohmann::json& json, JsonFields& fields,
                                      std::string_view name, std::size_t most,
                                      const std::string& expected) {
  fields.Allow({name});
  std::vector<std::string> texts;
  if (!fields.ok() || !json.contains(name)) return texts;
  const nlohmann::json& array = fields.Array(name);
  if (!fields.ok()) return texts;
  bool good = array.size() <= most;
  for (const nlohmann::json& item : array) {
    good = good && item.is_string() && !item.get<std::string>().empty() &&
           item.get<std::string>().size() <= kLongestText;
    if (good) texts.push_back(item.get<std::string>());
  }
  if (!good) fields.Refuse(name, expected);
  return texts;
}

std::vector<Day> ReadDates(const nlohmann::json& json, JsonFields& fields) {
  const std::string expected = "at most 50 dates as YYYY-MM-DD, each after the one before";
  std::vector<Day> days;
  for (const std::string& text : TextsIfThere(json, fields, "measure_on", kMostDates, expected)) {
    const auto day = ParseDay(text);
    if (!day || (!days.empty() && *day <= days.back())) {
      fields.Refuse("measure_on", expected);
      return {};
    }
    days.push_back(*day);
  }
  return days;
}

OrderedJson TextOrNull(const std::string& text) {
  return text.empty() ? OrderedJson() : OrderedJson(text);
}

}  // namespace

Result<ExercisePlan> ParseExercisePlan(std::string_view text, const std::string& where) {
  const auto json = ParseJson(text, where);
  if (!json) return tl::unexpected(json.error());
  if (const auto schema = CheckSchema(*json, kKind, where); !schema) {
    return tl::unexpected(schema.error());
  }
  JsonFields fields(*json, where);
  fields.Allow({"schema"});
  ExercisePlan plan;
  constexpr std::string_view kSources = "\"clinician\" or \"common practice\"";
  const std::string source = fields.Text("source", kSources);
  if (fields.ok() && source != kClinician && source != kCommonPractice) {
    fields.Refuse("source", std::string(kSources));
  }
  plan.source = source == kClinician ? PlanSource::kClinician : PlanSource::kCommonPractice;
  plan.set_by = ReadWords(fields, "set_by", "who set the plan");
  if (fields.ok() && plan.source == PlanSource::kClinician && plan.set_by.empty()) {
    fields.Refuse("set_by", "the name of the clinician who set the plan");
  }
  plan.repetitions = fields.Integer("repetitions", 1, 100, "a number of repetitions");
  plan.hold_s = fields.Number("hold_s", {1, 60, "seconds"});
  plan.levels = ReadLevels(fields);
  const int level_count = std::max(1, static_cast<int>(plan.levels.size()));
  plan.first_level = fields.Integer("first_level", 1, level_count, "the number of a level");
  plan.days_per_week = fields.Integer("days_per_week", 1, 7, "days a week");
  constexpr std::string_view kTimes = "\"morning\" or \"any\"";
  const std::string time = fields.Text("time_of_day", kTimes);
  if (fields.ok() && time != "morning" && time != "any") {
    fields.Refuse("time_of_day", std::string(kTimes));
  }
  plan.mornings = time == "morning";
  plan.starts = ReadDay(fields, "starts");
  plan.until = ReadDay(fields, "until");
  if (fields.ok() && plan.starts && plan.until && *plan.until < *plan.starts) {
    fields.Refuse("until", "a date that is not before \"starts\"");
  }
  plan.note = ReadWords(fields, "note", "words to the patient");
  plan.stop_when = TextsIfThere(*json, fields, "stop_when", kMostRules,
                                "at most 10 sentences of at most 1000 letters");
  plan.measure_on = ReadDates(*json, fields);
  fields.RefuseMisspelt();
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return plan;
}

Result<ExercisePlan> ReadExercisePlan(const std::string& file) {
  const auto text = ReadTextFile(file);
  if (!text) return tl::unexpected(text.error());
  return ParseExercisePlan(*text, file);
}

std::string SerializeExercisePlan(const ExercisePlan& plan) {
  OrderedJson json;
  json["schema"] = "nearpoint/" + std::string(kKind) + "/1";
  json["source"] = plan.source == PlanSource::kClinician ? kClinician : kCommonPractice;
  json["set_by"] = TextOrNull(plan.set_by);
  json["repetitions"] = plan.repetitions;
  json["hold_s"] = JsonNumber(plan.hold_s, 3);
  json["levels_mm"] = OrderedJson::array();
  for (const Length level : plan.levels) json["levels_mm"].push_back(JsonMm(level));
  json["first_level"] = plan.first_level;
  json["days_per_week"] = plan.days_per_week;
  json["time_of_day"] = plan.mornings ? "morning" : "any";
  json["starts"] = plan.starts ? OrderedJson(DayToText(*plan.starts)) : OrderedJson();
  json["until"] = plan.until ? OrderedJson(DayToText(*plan.until)) : OrderedJson();
  json["note"] = TextOrNull(plan.note);
  json["stop_when"] = plan.stop_when;
  json["measure_on"] = OrderedJson::array();
  for (const Day day : plan.measure_on) json["measure_on"].push_back(DayToText(day));
  return json.dump(2, ' ', false, OrderedJson::error_handler_t::replace) + '\n';
}

std::string DayToText(Day day) {
  const std::chrono::year_month_day date(day);
  char text[32];
  std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(date.year()),
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
  return text;
}

std::optional<Day> ParseDay(std::string_view text) {
  constexpr std::string_view kForm = "dddd-dd-dd";
  if (text.size() != kForm.size()) return std::nullopt;
  std::array<int, 3> parts{};
  std::size_t part = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (kForm[i] == '-') {
      if (text[i] != '-') return std::nullopt;
      ++part;
      continue;
    }
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
    parts[part] = parts[part] * 10 + (text[i] - '0');
  }
  const std::chrono::year_month_day date{std::chrono::year(parts[0]),
                                         std::chrono::month(static_cast<unsigned>(parts[1])),
                                         std::chrono::day(static_cast<unsigned>(parts[2]))};
  if (!date.ok()) return std::nullopt;
  return Day(date);
}

}  // namespace nearpoint
