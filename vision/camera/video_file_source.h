// A video file: any container and codec that FFmpeg reads, and AVI with MJPEG also where FFmpeg is
// not there.
#pragma once

#include <filesystem>
#include <memory>

#include "vision/camera/frame_source.h"
#include "vision/core/result.h"

namespace nearpoint {

enum class VideoReader {
  kAny,     // FFmpeg, or the reader below where OpenCV was built without FFmpeg
  kFfmpeg,  // FFmpeg alone
  kMjpeg,   // OpenCV's own reader: AVI with MJPEG
};

// Frame times are those of the container, the first frame at 0. Where the file is cut short (fewer
// frames than its header states), the last readable picture may be half a picture and is left out;
// the source then ends in order and info().unreadable counts what is missing. A picture size that
// changes, or a time that does not rise, is an error. Errors: kNotFound, kUnreadable (not a video,
// or not one picture in it), kBadValue.
[[nodiscard]] Result<std::unique_ptr<FrameSource>> OpenVideoFile(
    const std::filesystem::path& file, VideoReader reader = VideoReader::kAny);

}  // namespace nearpoint
