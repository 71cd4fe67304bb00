// The drawn shapes of a PDF page in its own coordinates, as millimetres on paper: poppler writes
// them out as numbers, nothing is rasterised.
#pragma once

#include <algorithm>
#include <array>
#include <cstdlib>
#include <string>
#include <vector>

#include "tests/support/run_program.h"

namespace nearpoint {

struct DrawnBox {
  double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
  [[nodiscard]] double width() const { return right - left; }
  [[nodiscard]] double height() const { return bottom - top; }
};

[[nodiscard]] inline std::vector<DrawnBox> DrawnBoxes(const std::string& pdf) {
  const TempFolder folder;
  const std::string file = folder.Write("page.pdf", pdf);
  if (RunProgram("/usr/bin/pdftocairo", {"-svg", file, folder / "page.svg"}).status != 0) return {};
  std::string svg = folder.Read("page.svg");
  svg.erase(0, svg.find("</defs>"));  // letters of fonts
  constexpr double kMmPerPoint = 25.4 / 72;
  std::vector<DrawnBox> boxes;
  for (std::size_t at = svg.find("<path"); at != std::string::npos;
       at = svg.find("<path", at + 1)) {
    const std::string path = svg.substr(at, svg.find("/>", at) - at);
    std::array<double, 6> matrix{1, 0, 0, 1, 0, 0};
    if (const auto m = path.find("matrix("); m != std::string::npos) {
      const char* text = path.c_str() + m + 7;
      for (double& entry : matrix) {
        char* end = nullptr;
        entry = std::strtod(text, &end);
        text = end + 1;
      }
    }
    const auto d = path.find(" d=\"");
    if (d == std::string::npos) continue;
    const std::string data = path.substr(d + 4, path.find('"', d + 4) - d - 4);
    DrawnBox box;
    const char* text = data.c_str();
    bool is_x = true;
    double x = 0;
    while (*text != '\0') {
      char* end = nullptr;
      const double value = std::strtod(text, &end);
      if (end == text) {
        ++text;
        continue;
      }
      text = end;
      if (is_x) {
        x = value;
      } else {
        const double u = (matrix[0] * x + matrix[2] * value + matrix[4]) * kMmPerPoint;
        const double v = (matrix[1] * x + matrix[3] * value + matrix[5]) * kMmPerPoint;
        box.left = std::min(box.left, u);
        box.right = std::max(box.right, u);
        box.top = std::min(box.top, v);
        box.bottom = std::max(box.bottom, v);
      }
      is_x = !is_x;
    }
    boxes.push_back(box);
  }
  return boxes;
}

}  // namespace nearpoint
