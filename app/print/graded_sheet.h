// The printed exercise: graded pairs at true scale for one person's pupil distance, each with the
// distance at which the fingertip makes it one. No Qt in this header.
#pragma once

#include <string>
#include <vector>

#include "app/exercise/graded_levels.h"
#include "app/print/paper.h"
#include "app/safety/help_rule.h"
#include "vision/core/result.h"

namespace nearpoint {

struct GradedSheetOptions {
  PaperSize paper = PaperSize::kA4;
  UncertainLength pupils;         // pupil distance for far
  UncertainLength sheet;          // from the corneal plane to the sheet as it is held
  std::vector<Length> distances;  // of the fingertip, from the corneal plane; empty: even steps
  int pairs = 5;                  // when `distances` is empty; 1 to 5
  int repetitions = 10;
  double hold_s = 3;
  std::string set_by;                 // the clinician; empty: common practice
  WordsIn words = WordsIn::kEnglish;  // of the application, for the rules that stand on every sheet
};

// Millimetres on the paper from its top left corner, y down.
struct GradedSheetRow {
  PairLevel level;
  double y_mm = 0;  // the middles of both figures
  double left_mm = 0, right_mm = 0;
};
struct GradedSheetLayout {
  double width_mm = 0, height_mm = 0;        // of the paper
  double figure_mm = 0;                      // width of a figure
  std::vector<GradedSheetRow> rows;          // the least separated on top: it becomes one first
  double ruler_left_mm = 0, ruler_y_mm = 0;  // 100 mm long, to be checked with a real ruler
  std::vector<std::string> notes;            // distances that could not be had
};

// Errors: those of MakeLevels; kBadValue for more than five distances.
[[nodiscard]] Result<GradedSheetLayout> LayOutGradedSheet(const GradedSheetOptions& options);

// Bytes of the PDF, one page, in the language of the application. Main thread only (fonts). Adds
// kNotWritable.
[[nodiscard]] Result<std::string> GradedSheetPdf(const GradedSheetOptions& options);

}  // namespace nearpoint
