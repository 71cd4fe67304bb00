#include "vision/camera/video_file_source.h"

#include <cmath>
#include <fstream>
#include <opencv2/imgproc.hpp>
#include <string>
#include <utility>

#include "vision/camera/quiet_libraries.h"
#include "vision/camera/video_decoder.h"

namespace nearpoint {
namespace {

constexpr double kSameShape = 0.01;  // of width by height

std::string Size(int width, int height) {
  return std::to_string(width) + "x" + std::to_string(height);
}

class VideoFileSource final : public FrameSource {
 public:
  VideoFileSource(std::filesystem::path file, VideoDecoder decoder)
      : file_(std::move(file)), decoder_(std::move(decoder)) {
    info_.description = "video " + file_.string();
    info_.frame_count = decoder_.stated_count();
  }

  // Decodes the first picture: it gives the size.
  Result<void> Start() {
    auto first = Read();
    if (!first) return tl::unexpected(first.error());
    if (!*first) {
      return Fail(ErrorCode::kUnreadable,
                  file_.string() + ": not one frame of this video can be decoded.");
    }
    first_ = *std::move(first);
    info_.description += ", " + Size(info_.width, info_.height) + " pixels";
    return {};
  }

  const SourceInfo& info() const override { return info_; }

  Result<std::optional<Frame>> Next() override {
    if (first_) return std::exchange(first_, std::nullopt);
    if (error_) return tl::unexpected(*error_);
    auto frame = Read();
    if (!frame) error_ = frame.error();
    return frame;
  }

 private:
  Result<std::optional<Frame>> Read() {
    for (;;) {
      auto picture = decoder_.Next();
      if (!picture) {
        info_.unreadable = decoder_.lost() + out_of_time_;
        info_.cut_off = decoder_.cut_off();
        return std::optional<Frame>();
      }
      if (!start_s_) start_s_ = picture->time_s;
      const Time time = FromMilliseconds(1000 * (picture->time_s - *start_s_));
      if (given_ > 0 && time <= last_time_) {
        ++out_of_time_;
        continue;
      }
      if (auto fitting = BringToSize(&picture->bgr); !fitting)
        return tl::unexpected(fitting.error());
      const std::int64_t lost = picture->lost + out_of_time_;
      const std::int64_t skipped = lost - std::exchange(info_.unreadable, lost);
      last_time_ = time;
      return std::optional<Frame>(std::in_place, given_++ + lost, time, std::move(picture->bgr),
                                  skipped);
    }
  }

  Result<void> BringToSize(cv::Mat* bgr) {
    if (given_ == 0) {
      info_.width = bgr->cols;
      info_.height = bgr->rows;
    }
    if (bgr->cols == info_.width && bgr->rows == info_.height) return {};
    const double shape = double(bgr->cols) / bgr->rows * info_.height / info_.width;
    if (std::abs(shape - 1) > kSameShape) {
      return Fail(ErrorCode::kBadValue, file_.string() + ": the picture changes from " +
                                            Size(info_.width, info_.height) + " to " +
                                            Size(bgr->cols, bgr->rows) + " pixels at frame " +
                                            std::to_string(given_) + "; expected one shape.");
    }
    const bool smaller = bgr->cols > info_.width;
    cv::Mat sized;
    cv::resize(*bgr, sized, {info_.width, info_.height}, 0, 0,
               smaller ? cv::INTER_AREA : cv::INTER_CUBIC);
    *bgr = sized;
    return {};
  }

  std::filesystem::path file_;
  VideoDecoder decoder_;
  std::int64_t given_ = 0;
  std::int64_t out_of_time_ = 0;
  std::optional<double> start_s_;
  Time last_time_{};
  std::optional<Frame> first_;
  std::optional<Error> error_;
  SourceInfo info_;
};

}  // namespace

Result<std::unique_ptr<FrameSource>> OpenVideoFile(const std::filesystem::path& file) {
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
  auto decoder = VideoDecoder::Open(file);
  if (!decoder) return tl::unexpected(decoder.error());
  auto source = std::make_unique<VideoFileSource>(file, *std::move(decoder));
  if (auto started = source->Start(); !started) return tl::unexpected(started.error());
  return source;
}

}  // namespace nearpoint
