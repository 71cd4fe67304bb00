// `nearpoint exercise-sheet`: the printed exercise as a PDF.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/print/graded_sheet.h"
#include "vision/core/result.h"

namespace nearpoint {

struct ExerciseSheetArguments {
  std::optional<std::string> profile;  // the pupil distance of PROFILE.json...
  std::optional<double> pupils_mm;     // ... or this one
  double pupils_sd_mm = 1;             // of pupils_mm: a ruler or an optician's note
  double sheet_mm = 400;
  std::optional<std::string> plan;  // distances of EXERCISE-PLAN.json...
  std::vector<double> levels_mm;    // ... or these
  int pairs = 5;
  bool letter = false;
  std::string out;
};

// What the sheet is made of. Errors: those of the files; kNotFound when the profile has no pupil
// distance.
[[nodiscard]] Result<GradedSheetOptions> SheetOptionsOf(const ExerciseSheetArguments& arguments);

// Errors: those of SheetOptionsOf and GradedSheetPdf, kNotWritable. Says what could not be shown.
[[nodiscard]] Result<void> RunExerciseSheet(const ExerciseSheetArguments& arguments);

}  // namespace nearpoint
