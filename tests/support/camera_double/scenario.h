// What the camera double plays, read from the environment so that a program which knows nothing of
// it can be tested:
//   NEARPOINT_TEST_CAMERA           the device file, for example /dev/video42
//   NEARPOINT_TEST_CAMERA_MODES     "MJPG 1280x720@30 YUYV 640x480@30 1920x1080@5"; a size written
//                                   640x480-1920x1080@30 is a range in steps of 8 pixels
//   NEARPOINT_TEST_CAMERA_FAULT     one of the names in Fault, with a number where it needs one:
//   "unplugged:20" NEARPOINT_TEST_CAMERA_PICTURES  folder with WxH/0.jpg, 1.jpg, ...: the pictures
//   of MJPG, in a circle NEARPOINT_TEST_CAMERA_DELAY_MS  from a picture's stamp until the driver
//   has it NEARPOINT_TEST_CAMERA_STAMPS    "monotonic" (default), "realtime", "none"
//   NEARPOINT_TEST_CAMERA_LOG       file: a line for each stream that was started
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace nearpoint::camera_double {

struct Mode {
  std::uint32_t format = 0;  // V4L2_PIX_FMT_...
  std::uint32_t width = 0;   // of a range: the largest
  std::uint32_t height = 0;
  std::uint32_t rate = 0;         // pictures a second
  std::uint32_t least_width = 0;  // 0: one size, no range
  std::uint32_t least_height = 0;
};

enum class Fault {
  kNone,
  kForbidden,    // "forbidden": open() is not permitted
  kBusyOpen,     // "busy-open": only one program may open it
  kBusyFormat,   // "busy-format": another program has it, told at S_FMT
  kBusyBuffers,  // "busy-buffers": told at REQBUFS
  kBusyStream,   // "busy-stream": told at STREAMON
  kNoDriver,     // "no-driver": a device file that is not Video4Linux
  kMetadata,     // "metadata": the second device of a camera, which gives no pictures
  kUnplugged,    // "unplugged:N": after N pictures
  kSilent,       // "silent:N": no more pictures after N
  kCut,          // "cut:N": of every N pictures the last is cut in half
  kEmpty,        // "empty:N": of every N pictures the last has no byte
  kAdjusts,      // "adjusts": whatever size is asked for, the first mode is given
};

struct Scenario {
  std::string path;
  std::vector<Mode> modes;
  Fault fault = Fault::kNone;
  int number = 0;  // of the fault
  std::string pictures;
  double delay_ms = 0;
  std::string stamps;
  std::string log;
};

// Path empty: the double is not asked for. A word that it does not know ends the process.
[[nodiscard]] Scenario ScenarioFromEnvironment();

}  // namespace nearpoint::camera_double
