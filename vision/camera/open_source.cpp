#include "vision/camera/open_source.h"

#include <algorithm>
#include <charconv>
#include <filesystem>

#include "vision/camera/image_folder_source.h"
#include "vision/camera/video_file_source.h"
#include "vision/camera/webcam.h"

namespace nearpoint {

Result<std::unique_ptr<FrameSource>> OpenSource(const std::string& spec,
                                                std::optional<ImageSize> wanted) {
  if (spec.empty()) {
    return Fail(
        ErrorCode::kBadValue,
        "The source is empty: expected a camera number, a video file or a folder of images.");
  }
  const bool digits =
      std::all_of(spec.begin(), spec.end(), [](char c) { return c >= '0' && c <= '9'; });
  if (digits) {
    int number = 0;
    const auto [end, code] = std::from_chars(spec.data(), spec.data() + spec.size(), number);
    if (code != std::errc()) {
      return Fail(ErrorCode::kNotFound, "There is no camera " + spec + ".");
    }
    return OpenWebcam(number, wanted);
  }
  std::error_code ignored;
  const std::filesystem::path path(spec);
  if (!std::filesystem::exists(path, ignored)) {
    return Fail(ErrorCode::kNotFound,
                spec +
                    ": no such file or folder; expected a camera number, a video file or a "
                    "folder of images with frames.jsonl.");
  }
  if (std::filesystem::is_directory(path, ignored)) return OpenImageFolder(path);
  return OpenVideoFile(path);
}

}  // namespace nearpoint
