// A live device as a frame source: a thread of its own grabs, the reader gets the newest frame, and
// what it was too slow for is counted, not queued.
#pragma once

#include <chrono>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>

#include "vision/camera/frame_source.h"
#include "vision/core/result.h"

namespace nearpoint {

// What a device must be able to do. Used by the grabbing thread alone.
class CaptureDevice {
 public:
  virtual ~CaptureDevice() = default;
  // Waits for the next picture and gives it with its capture time on the monotonic clock
  // (steady_clock). The pixels must be the caller's own. Errors end the source.
  struct Shot {
    Time time;
    cv::Mat bgr;
    std::int64_t lost_before = 0;  // pictures since the last one that came damaged
  };
  [[nodiscard]] virtual Result<Shot> Grab() = 0;
};

// Starts the thread. info.live is set by this function; width and height must be those of every
// picture, another size is an error. Next() waits at most `patience` for a frame newer than the
// last one it gave, then fails with kUnavailable and `silence` as its message. A frame's time is
// its capture time since the origin of steady_clock, so that key presses stamped with that clock
// compare with it. Frames are counted from the first call of Next(): who opened the camera and is
// still preparing loses nothing. Destruction waits for a Grab() in progress.
[[nodiscard]] std::unique_ptr<FrameSource> MakeLiveSource(
    std::unique_ptr<CaptureDevice> device, SourceInfo info, std::string silence,
    std::chrono::milliseconds patience = std::chrono::milliseconds(2000));

}  // namespace nearpoint
