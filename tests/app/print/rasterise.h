// A page of a PDF as a picture and as text, by programs that share nothing with ours (poppler).
#pragma once

#include <gtest/gtest.h>

#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <string>

#include "tests/support/run_program.h"

namespace nearpoint {

[[nodiscard]] inline cv::Mat Rasterise(const std::string& pdf, int dots_per_inch = 300,
                                       int page = 1) {
  const TempFolder folder;
  const std::string file = folder.Write("page.pdf", pdf);
  const std::string number = std::to_string(page);
  const ProgramRun run = RunProgram(
      "/usr/bin/pdftoppm", {"-r", std::to_string(dots_per_inch), "-gray", "-png", "-singlefile",
                            "-f", number, "-l", number, file, folder / "page"});
  EXPECT_EQ(run.status, 0) << run.err;
  return cv::imread(folder / "page.png", cv::IMREAD_GRAYSCALE);
}

[[nodiscard]] inline std::string PdfText(const std::string& pdf) {
  const TempFolder folder;
  return RunProgram("/usr/bin/pdftotext", {folder.Write("page.pdf", pdf), "-"}).out;
}

}  // namespace nearpoint
