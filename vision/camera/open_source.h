// The one place that decides what a source text means.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "vision/camera/camera_mode.h"
#include "vision/camera/frame_source.h"
#include "vision/core/result.h"

namespace nearpoint {

// spec: digits only is a camera number, a folder is a folder of images with frames.jsonl, anything
// else is a video file. wanted: the image size a camera is asked for (files have the size they
// have); absent: the camera's best mode. Errors: kNotFound, kUnreadable, kBadValue, kUnavailable;
// each names the source.
[[nodiscard]] Result<std::unique_ptr<FrameSource>> OpenSource(
    const std::string& spec, std::optional<ImageSize> wanted = std::nullopt);

}  // namespace nearpoint
