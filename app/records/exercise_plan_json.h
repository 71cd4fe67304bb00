// An exercise plan as a file, schema "nearpoint/exercise-plan/1":
//   {"schema": "nearpoint/exercise-plan/1", "source": "clinician", "set_by": "...",
//    "repetitions": 10, "hold_s": 5, "levels_mm": [200, 160, 130], "first_level": 1,
//    "days_per_week": 5, "time_of_day": "morning", "starts": "2026-08-03", "until": null, "note":
//    null, "stop_when": ["Double vision stays after stopping."], "measure_on": ["2026-08-17"]}
#pragma once

#include <string>
#include <string_view>

#include "app/exercise/plan.h"
#include "vision/core/result.h"

namespace nearpoint {

// Every field must be there; set_by, starts, until and note may be null. source: "clinician" or
// "common practice"; a clinician's plan names who set it. repetitions: 1 to 100; hold_s: 1 to 60;
// levels_mm: 1 to 20 distances from the corneal plane, each nearer than the one before, 40 to 600;
// first_level: the number of one of them; days_per_week: 1 to 7; time_of_day: "morning" or "any";
// dates: YYYY-MM-DD, until not before starts. stop_when (at most 10 sentences) and measure_on (at
// most 50 dates, each after the one before) may be left out. Errors: kNotFound (a field is
// missing), kBadValue. where: the file, for messages.
[[nodiscard]] Result<ExercisePlan> ParseExercisePlan(std::string_view text,
                                                     const std::string& where);

// Adds kNotFound and kUnreadable for the file itself.
[[nodiscard]] Result<ExercisePlan> ReadExercisePlan(const std::string& file);

// Indented, with a newline at its end. ParseExercisePlan of it gives the same plan.
[[nodiscard]] std::string SerializeExercisePlan(const ExercisePlan& plan);

// "2026-08-03" and back; nullopt for anything else, the 30th of February included.
[[nodiscard]] std::string DayToText(Day day);
[[nodiscard]] std::optional<Day> ParseDay(std::string_view text);

}  // namespace nearpoint
