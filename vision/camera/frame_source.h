// Where frames come from. A webcam, a video file, a folder of images and the simulated patient all
// stand behind this, and no later stage can tell which it is.
#pragma once

#include <optional>
#include <string>

#include "vision/camera/frame.h"
#include "vision/core/result.h"

namespace nearpoint {

struct SourceInfo {
  std::string description;  // for messages and records: "camera 0, 1280x720 at 30 frames a second"
  int width = 0;            // pixels; every frame has this size
  int height = 0;
  bool live = false;  // true: waiting loses frames; false: every frame waits for its reader
  std::optional<std::int64_t> frame_count;  // known number of frames, for progress
  std::int64_t unreadable =
      0;  // frames so far that the source names and that are missing or cannot be decoded
  bool cut_off = false;  // after the last frame: the recording breaks off there
};

class FrameSource {
 public:
  virtual ~FrameSource() = default;
  [[nodiscard]] virtual const SourceInfo& info() const = 0;
  // The next frame; nullopt at the orderly end. An Error ends the source: every later call returns
  // the same error. Never waits longer than about two seconds for a live device.
  [[nodiscard]] virtual Result<std::optional<Frame>> Next() = 0;
};

}  // namespace nearpoint
