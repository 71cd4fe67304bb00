// The program as a window. No Qt in this header: the command line starts it.
#pragma once

#include <string>

#include "vision/core/result.h"

namespace nearpoint {

struct WindowArguments {
  std::string data;       // folder of what is remembered; empty: the user's own data folder
  bool practice = false;  // begin with the simulated person
  bool event = false;     // begin at the school event
  bool clinic = false;    // begin with the clinic's pages
};

// Whether this machine could show a window at all: asked of the environment before Qt is touched.
[[nodiscard]] bool HasDisplay();

// Until the window is closed. Errors: kUnavailable without a display, those of Store::Open.
[[nodiscard]] Result<void> RunWindow(int& argc, char** argv, const WindowArguments& arguments);

}  // namespace nearpoint
