// A video file decoded with FFmpeg's libraries: its pictures in the order in which they are shown,
// whatever order they were stored in. The only place that knows these libraries.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <opencv2/core.hpp>
#include <optional>

#include "vision/core/result.h"

namespace nearpoint {

struct VideoPicture {
  cv::Mat bgr;            // CV_8UC3, upright, with pixels of its own
  double time_s = 0;      // when it is shown, as the container says
  std::int64_t lost = 0;  // pictures so far that were damaged or had no time, and are not given
};

// Containers: MP4 and MOV (and what is built like them), Matroska and WebM, AVI, MPEG, ASF, FLV,
// Ogg. Every codec that the libraries decode. Nothing but the file itself is opened: neither other
// files that it names nor anything over a network. Sound and other tracks are passed over.
class VideoDecoder {
 public:
  // Errors: kUnreadable when the file is not such a video.
  [[nodiscard]] static Result<VideoDecoder> Open(const std::filesystem::path& file);
  VideoDecoder(VideoDecoder&&) noexcept;
  VideoDecoder& operator=(VideoDecoder&&) noexcept;
  ~VideoDecoder();

  // nullopt at the end, also where the file breaks off. A damaged picture is left out together with
  // those that were coded as a change to it. Of 4:2:2, 4:4:4 and more than 8 bits the nearest
  // 8-bit BGR, by the matrix and the range of brightness that the stream names, without a change of
  // its tone curve.
  [[nodiscard]] std::optional<VideoPicture> Next();

  // Number of pictures, where the container states one.
  [[nodiscard]] std::optional<std::int64_t> stated_count() const;

  // After the last picture. lost: all that are not given, those missing at the end included as far
  // as the container tells their number.
  [[nodiscard]] std::int64_t lost() const;
  // The file ends before what it says, or cannot be read to its end.
  [[nodiscard]] bool cut_off() const;

 private:
  struct Impl;
  explicit VideoDecoder(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace nearpoint
