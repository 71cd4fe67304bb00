#include "tests/support/camera_double/scenario.h"

#include <linux/videodev2.h>

#include <cstdio>
#include <cstdlib>
#include <sstream>
#include <utility>

namespace nearpoint::camera_double {
namespace {

constexpr std::pair<const char*, Fault> kFaults[] = {
    {"", Fault::kNone},
    {"forbidden", Fault::kForbidden},
    {"busy-open", Fault::kBusyOpen},
    {"busy-format", Fault::kBusyFormat},
    {"busy-buffers", Fault::kBusyBuffers},
    {"busy-stream", Fault::kBusyStream},
    {"no-driver", Fault::kNoDriver},
    {"metadata", Fault::kMetadata},
    {"unplugged", Fault::kUnplugged},
    {"silent", Fault::kSilent},
    {"cut", Fault::kCut},
    {"empty", Fault::kEmpty},
    {"adjusts", Fault::kAdjusts},
};

std::string Variable(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

[[noreturn]] void Refuse(const std::string& word) {
  std::fprintf(stderr, "The camera double does not know \"%s\".\n", word.c_str());
  std::abort();
}

bool ReadMode(const char* word, Mode& mode) {
  if (std::sscanf(word, "%ux%u-%ux%u@%u", &mode.least_width, &mode.least_height, &mode.width,
                  &mode.height, &mode.rate) == 5) {
    return true;
  }
  mode.least_width = mode.least_height = 0;
  return std::sscanf(word, "%ux%u@%u", &mode.width, &mode.height, &mode.rate) == 3;
}

std::vector<Mode> Modes(const std::string& text) {
  std::vector<Mode> modes;
  std::uint32_t format = 0;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    Mode mode;
    if (word == "MJPG") {
      format = V4L2_PIX_FMT_MJPEG;
    } else if (word == "YUYV") {
      format = V4L2_PIX_FMT_YUYV;
    } else if (ReadMode(word.c_str(), mode)) {
      mode.format = format;
      modes.push_back(mode);
    } else {
      Refuse(word);
    }
  }
  return modes;
}

}  // namespace

Scenario ScenarioFromEnvironment() {
  Scenario scenario;
  scenario.path = Variable("NEARPOINT_TEST_CAMERA");
  if (scenario.path.empty()) return scenario;
  scenario.modes = Modes(Variable("NEARPOINT_TEST_CAMERA_MODES"));
  const std::string fault = Variable("NEARPOINT_TEST_CAMERA_FAULT");
  const auto colon = fault.find(':');
  const std::string name = fault.substr(0, colon);
  if (colon != std::string::npos) scenario.number = std::atoi(fault.c_str() + colon + 1);
  bool known = false;
  for (const auto& [word, value] : kFaults) {
    if (name != word) continue;
    scenario.fault = value;
    known = true;
  }
  if (!known) Refuse(name);
  scenario.pictures = Variable("NEARPOINT_TEST_CAMERA_PICTURES");
  scenario.delay_ms = std::atof(Variable("NEARPOINT_TEST_CAMERA_DELAY_MS").c_str());
  scenario.stamps = Variable("NEARPOINT_TEST_CAMERA_STAMPS");
  scenario.log = Variable("NEARPOINT_TEST_CAMERA_LOG");
  return scenario;
}

}  // namespace nearpoint::camera_double
