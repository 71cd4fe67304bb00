// nearpoint calibrate sheet: prints the calibration sheet to a PDF, and checks a print.
#pragma once

#include <optional>
#include <string>

#include "app/print/paper.h"
#include "vision/core/result.h"

namespace nearpoint {

struct CalibrateSheetArguments {
  std::optional<std::string> out;  // PDF
  PaperSize paper = PaperSize::kA4;
  std::optional<std::string> check;  // source that shows the sheet with a real card on its place
  // Of the camera, for check; the result is kept in it, as that of ruler_mm is.
  std::optional<std::string> profile;
  std::optional<double> ruler_mm;  // the printed 100 mm as read with a ruler
  std::string software;            // kept with the result
};

[[nodiscard]] Result<void> RunCalibrateSheet(const CalibrateSheetArguments& arguments);

}  // namespace nearpoint
