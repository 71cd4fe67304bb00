// A folder of images with frames.jsonl, one line a frame: {"file": "000001.jpg", "t_ms": 33.3}.
#pragma once

#include <filesystem>
#include <memory>

#include "vision/camera/frame_source.h"
#include "vision/core/result.h"

namespace nearpoint {

// The frame index is the line's place in frames.jsonl, from 0 (blank lines do not count). The list
// is read and checked here, before the first image: a malformed line or a time that does not rise
// is an error naming the line. An image that is missing or cannot be decoded keeps its index, is
// left out, and is counted in the next frame's skipped_before() and in info().unreadable. An image
// of another size than the first is an error. Errors: kNotFound (no frames.jsonl, or not one
// readable image), kBadValue.
[[nodiscard]] Result<std::unique_ptr<FrameSource>> OpenImageFolder(
    const std::filesystem::path& folder);

}  // namespace nearpoint
