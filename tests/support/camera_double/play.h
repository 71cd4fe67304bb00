// The environment that makes the camera double play, for a test that runs it in its own process or
// in another.
#pragma once

#include <filesystem>
#include <opencv2/imgcodecs.hpp>
#include <string>
#include <utility>
#include <vector>

#include "tests/support/frames.h"
#include "tests/support/temp_folder.h"

namespace nearpoint::camera_double {

inline constexpr const char* kNumber = "42";

using Environment = std::vector<std::pair<std::string, std::string>>;

struct Play {
  std::string modes;
  std::string fault;
  std::string pictures;
  std::string delay_ms;
  std::string stamps;
  std::string log;
};

// Every variable of scenario.h, those not played empty.
[[nodiscard]] inline Environment EnvironmentOf(const Play& play) {
  const std::string name = "NEARPOINT_TEST_CAMERA";
  return {{name, std::string("/dev/video") + kNumber},
          {name + "_MODES", play.modes},
          {name + "_FAULT", play.fault},
          {name + "_PICTURES", play.pictures},
          {name + "_DELAY_MS", play.delay_ms},
          {name + "_STAMPS", play.stamps},
          {name + "_LOG", play.log}};
}

// Numbered pictures for MJPG.
inline void WriteNumberedPictures(const TempFolder& folder, int count, int width, int height) {
  const std::string size = std::to_string(width) + "x" + std::to_string(height);
  std::filesystem::create_directories(folder.path() / size);
  for (int i = 0; i < count; ++i) {
    cv::imwrite(folder / (size + "/" + std::to_string(i) + ".jpg"),
                NumberedPicture(i, width, height));
  }
}

}  // namespace nearpoint::camera_double
