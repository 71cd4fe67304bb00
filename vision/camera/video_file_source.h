// A video file: any container and codec that video_decoder.h names.
#pragma once

#include <filesystem>
#include <memory>

#include "vision/camera/frame_source.h"
#include "vision/core/result.h"

namespace nearpoint {

// Upright pictures in the order in which they are shown, with the times of the container, the first
// picture at 0. A picture that is damaged, or whose time does not rise, is left out and counted in
// info().unreadable. Where the file breaks off (cut short, fewer pictures than its header states)
// the source ends in order and info().cut_off says so. A picture of another size is brought to the
// first one's size where the shape is the same, as when a meeting program changes its resolution;
// another shape is an error. Errors: kNotFound, kUnreadable (not a video, or not one picture in
// it), kBadValue.
[[nodiscard]] Result<std::unique_ptr<FrameSource>> OpenVideoFile(const std::filesystem::path& file);

}  // namespace nearpoint
