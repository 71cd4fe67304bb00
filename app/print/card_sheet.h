// The calibration sheet: card to cut and fold, place for a real card beside it, ruler, fixation
// strip, and what to do in pictures. No Qt in this header.
#pragma once

#include <string>

#include "app/print/paper.h"
#include "app/safety/help_rule.h"
#include "vision/core/result.h"

namespace nearpoint {

// Millimetres on the paper, from its top left corner, y down.
struct SheetBox {
  double left = 0, top = 0, width = 0, height = 0;
};

struct SheetLayout {
  double width_mm = 0, height_mm = 0;  // of the paper
  SheetBox front;                      // pattern side, read upright
  SheetBox back;   // fixation side, under the front and upside down: the fold lies between them
  SheetBox place;  // where a real card is laid: ID-1
  SheetBox ruler;  // 100 mm wide, from the first to the last tick
  SheetBox strip;  // fixation strip; its upper edge goes right under the lens
  double target_below_edge_mm = 0;  // middle of the letter under that edge
};
[[nodiscard]] SheetLayout LayoutOf(PaperSize paper);

// Height of a 20/30 letter (five strokes of 1.5 minutes of arc) seen from this distance: ISO 8596
// gives the letter five times its detail. 0.873 mm for 400 mm.
[[nodiscard]] double LetterHeightMm(double distance_mm);

// Bytes of the PDF, one page. Main thread only (fonts). Error: kNotWritable.
// words: the language of the application, for the rules that stand on every sheet.
[[nodiscard]] Result<std::string> CardSheetPdf(PaperSize paper, WordsIn words = WordsIn::kEnglish);

}  // namespace nearpoint
