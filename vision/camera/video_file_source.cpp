#include "vision/camera/video_file_source.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <opencv2/videoio.hpp>
#include <opencv2/videoio/registry.hpp>
#include <string>
#include <utility>

#include "vision/camera/quiet_libraries.h"

namespace nearpoint {
namespace {

std::string Size(int width, int height) {
  return std::to_string(width) + "x" + std::to_string(height);
}

class VideoFileSource final : public FrameSource {
 public:
  VideoFileSource(std::filesystem::path file, const cv::VideoCapture& capture,
                  bool time_before_read)
      : file_(std::move(file)), capture_(capture), time_before_read_(time_before_read) {
    info_.description = "video " + file_.string();
    // Zero or negative where the container does not know it.
    const double count = capture_.get(cv::CAP_PROP_FRAME_COUNT);
    if (std::isfinite(count) && count >= 1 && count < 1e9) {
      info_.frame_count = static_cast<std::int64_t>(count);
    }
  }

  // Decodes the first picture: it gives the size.
  Result<void> Start() {
    auto first = Decode();
    if (!first) return tl::unexpected(first.error());
    if (!*first) {
      return Fail(ErrorCode::kUnreadable,
                  file_.string() + ": not one picture of this video can be decoded.");
    }
    ahead_ = *std::move(first);
    info_.description += ", " + Size(info_.width, info_.height) + " pixels";
    return {};
  }

  const SourceInfo& info() const override { return info_; }

  Result<std::optional<Frame>> Next() override {
    if (!ahead_) {
      if (error_) return tl::unexpected(*error_);
      return std::optional<Frame>();
    }
    auto after = Decode();
    if (!after) {
      error_ = after.error();
      return std::exchange(ahead_, std::nullopt);
    }
    if (!*after && CutShort()) {
      info_.unreadable = *info_.frame_count - decoded_ + 1;
      ahead_.reset();
      return std::optional<Frame>();
    }
    return std::exchange(ahead_, *std::move(after));
  }

 private:
  // Some containers state an estimated count, so a small difference is no sign of damage.
  bool CutShort() const {
    if (!info_.frame_count) return false;
    const std::int64_t missing = *info_.frame_count - decoded_;
    return missing > 2 + *info_.frame_count / 100;
  }

  Result<std::optional<Frame>> Decode() {
    cv::Mat bgr;
    double t_ms = 0;
    try {
      const double before = capture_.get(cv::CAP_PROP_POS_MSEC);
      if (!capture_.read(bgr) || bgr.empty()) return std::optional<Frame>();
      t_ms = time_before_read_ ? before : capture_.get(cv::CAP_PROP_POS_MSEC);
    } catch (const cv::Exception&) {
      return std::optional<Frame>();  // damage that the decoder does not survive ends the readable
                                      // part
    }
    if (bgr.type() != CV_8UC3) {
      return Fail(ErrorCode::kUnreadable,
                  file_.string() + ": expected a colour video with 8 bits a channel.");
    }
    const std::int64_t index = decoded_++;
    if (index == 0) {
      info_.width = bgr.cols;
      info_.height = bgr.rows;
    } else if (bgr.cols != info_.width || bgr.rows != info_.height) {
      return Fail(ErrorCode::kBadValue, file_.string() + ": the picture changes from " +
                                            Size(info_.width, info_.height) + " to " +
                                            Size(bgr.cols, bgr.rows) + " pixels at frame " +
                                            std::to_string(index) + "; expected one size.");
    }
    const Time time = FromMilliseconds(t_ms);
    if (!std::isfinite(t_ms) || (index > 0 && time <= last_time_)) {
      return Fail(ErrorCode::kBadValue, file_.string() + ": frame " + std::to_string(index) +
                                            " has no time of its own in the container; expected "
                                            "frame times that rise.");
    }
    last_time_ = time;
    // The reader may use its buffer again: the frame gets pixels of its own.
    return std::optional<Frame>(std::in_place, index, time, bgr.clone());
  }

  std::filesystem::path file_;
  cv::VideoCapture capture_;
  bool time_before_read_;
  std::int64_t decoded_ = 0;
  Time last_time_{};
  std::optional<Frame>
      ahead_;  // one picture is kept back, so that a last, half picture can be left out
  std::optional<Error> error_;
  SourceInfo info_;
};

bool HasFfmpeg() {
  const auto backends = cv::videoio_registry::getBackends();
  return std::find(backends.begin(), backends.end(), cv::CAP_FFMPEG) != backends.end();
}

// FFmpeg draws a plain text file as the terminal would show it.
bool IsDrawnText(const cv::VideoCapture& capture) {
  return static_cast<int>(capture.get(cv::CAP_PROP_FOURCC)) ==
         cv::VideoWriter::fourcc('a', 'n', 's', 'i');
}

// The container's time of a picture stands in POS_MSEC after reading it with FFmpeg, and before
// reading it with OpenCV's own reader.
Result<std::unique_ptr<FrameSource>> Open(const std::filesystem::path& file, int backend) {
  cv::VideoCapture capture;
  try {
    capture.open(file.string(), backend);
  } catch (const cv::Exception&) {
    capture.release();
  }
  if (!capture.isOpened() || IsDrawnText(capture)) {
    return Fail(ErrorCode::kUnreadable,
                file.string() + ": this is not a video that can be opened.");
  }
  auto source = std::make_unique<VideoFileSource>(file, capture, backend == cv::CAP_OPENCV_MJPEG);
  if (auto started = source->Start(); !started) return tl::unexpected(started.error());
  return source;
}

}  // namespace

Result<std::unique_ptr<FrameSource>> OpenVideoFile(const std::filesystem::path& file,
                                                   VideoReader reader) {
  std::error_code ignored;
  if (!std::filesystem::exists(file, ignored)) {
    return Fail(ErrorCode::kNotFound, file.string() + ": no such file.");
  }
  if (!std::ifstream(file).good()) {
    return Fail(ErrorCode::kUnreadable, file.string() + ": the file may not be read by this user.");
  }
  if (std::filesystem::is_regular_file(file, ignored) &&
      std::filesystem::file_size(file, ignored) == 0) {
    return Fail(ErrorCode::kUnreadable, file.string() + ": the file is empty; expected a video.");
  }
  KeepLibrariesQuiet();
  switch (reader) {
    case VideoReader::kFfmpeg:
      return Open(file, cv::CAP_FFMPEG);
    case VideoReader::kMjpeg:
      return Open(file, cv::CAP_OPENCV_MJPEG);
    case VideoReader::kAny:
      break;
  }
  return Open(file, HasFfmpeg() ? cv::CAP_FFMPEG : cv::CAP_OPENCV_MJPEG);
}

}  // namespace nearpoint
