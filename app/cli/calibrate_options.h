// What `nearpoint calibrate` understands on the command line.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <string>

#include "app/cli/calibrate_camera.h"
#include "app/cli/calibrate_lag.h"
#include "app/cli/calibrate_screen.h"
#include "app/cli/calibrate_sheet.h"

namespace nearpoint {

// Where the options are kept; must outlive the parsing and the work.
struct CalibrateOptions {
  CalibrateCameraArguments camera;
  CalibrateScreenArguments screen;
  CalibrateLagArguments lag;
  CalibrateSheetArguments sheet;
};

// Adds `calibrate` with its own subcommands; the one that is named sets `work`. Gives the command,
// so that others can be added to it.
CLI::App* AddCalibrate(CLI::App& app, const std::string& software, CalibrateOptions& options,
                       std::function<Result<void>()>& work);

}  // namespace nearpoint
