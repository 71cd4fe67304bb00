// nearpoint calibrate face: the personal scale from a card on the forehead or under the nose.
// nearpoint calibrate touch: the zero of the held card.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <optional>
#include <string>

#include "app/profile/profile_file.h"
#include "vision/core/result.h"

namespace nearpoint {

struct CalibrateFaceArguments {
  CalibrateArguments common;
  std::string source;
  std::optional<double> age;
  bool unusual = false;          // an unusual result is kept
  bool unchecked_print = false;  // nobody measured the printed card
  std::string glasses;           // "on", "off"; empty: not said
};
[[nodiscard]] Result<void> RunCalibrateFace(const CalibrateFaceArguments& arguments);

struct CalibrateTouchArguments {
  CalibrateArguments common;
  std::string source;
  std::optional<double> touch_mm;  // target before the corneal plane in touch, as measured
  bool unchecked_print = false;    // nobody measured the printed card
};
[[nodiscard]] Result<void> RunCalibrateTouch(const CalibrateTouchArguments& arguments);

struct CalibrateFaceOptions {
  CalibrateFaceArguments face;
  CalibrateTouchArguments touch;
};
// Adds both to `calibrate`; the one that is named sets `work`.
void AddCalibrateFace(CLI::App& calibrate, const std::string& software,
                      CalibrateFaceOptions& options, std::function<Result<void>()>& work);

}  // namespace nearpoint
