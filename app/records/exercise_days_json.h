// The exercise days of one person as a file, schema "nearpoint/exercise-days/1":
//   {"schema": "nearpoint/exercise-days/1", "days": [{"day": "2026-03-02", "counted": 8, "asked":
//    10, "reach_mm": 112.5, "reach_sd_mm": 3.1, "comfort": "fine"}]}
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/exercise/diary.h"
#include "vision/core/result.h"

namespace nearpoint {

struct ExerciseDay {
  DiaryEntry entry;     // one exercise session
  std::string comfort;  // "fine", "tired", "discomfort", "double"; "" when nobody asked
};

// reach_mm (1 to 3000) and comfort may be null. Errors: kNotFound (a field is missing), kBadValue.
[[nodiscard]] Result<std::vector<ExerciseDay>> ParseExerciseDays(std::string_view text,
                                                                 const std::string& where);
// Indented, with a newline at its end; ParseExerciseDays of it gives the same.
[[nodiscard]] std::string SerializeExerciseDays(const std::vector<ExerciseDay>& days);

}  // namespace nearpoint
