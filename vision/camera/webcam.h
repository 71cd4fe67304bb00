// A webcam through Video4Linux.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "vision/camera/camera_mode.h"
#include "vision/camera/frame_source.h"
#include "vision/core/capture_stamp.h"
#include "vision/core/result.h"

namespace nearpoint {

// Opens /dev/video<number> in the mode that ChooseMode picks and starts grabbing. Frames are live:
// see live_source.h. Errors: kNotFound (no such camera, or a device that is not a camera),
// kUnavailable (busy, or this user may not use it), kMismatch (the wanted size is not one of the
// camera's). A camera that falls silent, or sends damaged pictures only, ends the source within
// about two seconds; a damaged picture among others is a frame skipped.
[[nodiscard]] Result<std::unique_ptr<FrameSource>> OpenWebcam(int number,
                                                              std::optional<ImageSize> wanted);

// Grabs pictures for a while and gives the times of each as its driver and the program have them;
// the pictures themselves are dropped. Errors as above.
[[nodiscard]] Result<std::vector<CaptureStamp>> TimeWebcam(int number,
                                                           std::optional<ImageSize> wanted,
                                                           int pictures);

}  // namespace nearpoint
