// The cameras of this machine by the names their makers gave them.
#pragma once

#include <string>
#include <vector>

namespace nearpoint {

struct CameraName {
  std::string spec;  // as OpenSource takes it: "0"
  std::string name;
};

// In the order of their numbers. A device that turns out to be no camera says so when opened.
// folder: where the system lists them; tests give their own.
[[nodiscard]] std::vector<CameraName> ListCameras(
    const std::string& folder = "/sys/class/video4linux");

}  // namespace nearpoint
