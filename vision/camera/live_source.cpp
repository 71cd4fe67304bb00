#include "vision/camera/live_source.h"

#include <condition_variable>
#include <mutex>
#include <thread>
#include <utility>

namespace nearpoint {
namespace {

class LiveSource final : public FrameSource {
 public:
  LiveSource(std::unique_ptr<CaptureDevice> device, SourceInfo info, std::string silence,
             std::chrono::milliseconds patience)
      : device_(std::move(device)),
        info_(std::move(info)),
        silence_(std::move(silence)),
        patience_(patience) {
    info_.live = true;
    thread_ = std::jthread([this](const std::stop_token& stop) { Run(stop); });
  }

  LiveSource(const LiveSource&) = delete;
  LiveSource& operator=(const LiveSource&) = delete;

  const SourceInfo& info() const override { return info_; }

  Result<std::optional<Frame>> Next() override {
    std::unique_lock lock(mutex_);
    asked_ = true;
    changed_.wait_for(lock, patience_,
                      [this] { return newest_.has_value() || error_.has_value(); });
    if (newest_) return std::exchange(newest_, std::nullopt);
    if (!error_) error_ = Error{ErrorCode::kUnavailable, silence_};
    return tl::unexpected(*error_);
  }

 private:
  void Run(const std::stop_token& stop) {
    std::int64_t index = -1;  // of the last frame
    while (!stop.stop_requested()) {
      auto shot = device_->Grab();
      if (shot && (shot->bgr.cols != info_.width || shot->bgr.rows != info_.height)) {
        shot =
            Fail(ErrorCode::kUnavailable,
                 info_.description + ": the picture is suddenly " + std::to_string(shot->bgr.cols) +
                     "x" + std::to_string(shot->bgr.rows) + " pixels; start again.");
      }
      const std::scoped_lock lock(mutex_);
      if (error_) return;
      if (!shot) {
        error_ = shot.error();
        changed_.notify_one();
        return;
      }
      // Whoever opened the camera may still be preparing: what came before is nobody's loss.
      std::int64_t skipped = 0;
      if (asked_) {
        skipped = shot->lost_before + (newest_ ? newest_->skipped_before() + 1 : 0);
        index += shot->lost_before + 1;
      } else {
        index = 0;
      }
      newest_.emplace(index, shot->time, std::move(shot->bgr), skipped);
      changed_.notify_one();
    }
  }

  std::unique_ptr<CaptureDevice> device_;
  SourceInfo info_;
  std::string silence_;
  std::chrono::milliseconds patience_;
  std::mutex mutex_;
  std::condition_variable changed_;
  bool asked_ = false;           // guarded by mutex_
  std::optional<Frame> newest_;  // guarded by mutex_
  std::optional<Error> error_;   // guarded by mutex_
  std::jthread thread_;          // last: it stops and joins before what it uses goes
};

}  // namespace

std::unique_ptr<FrameSource> MakeLiveSource(std::unique_ptr<CaptureDevice> device, SourceInfo info,
                                            std::string silence,
                                            std::chrono::milliseconds patience) {
  return std::make_unique<LiveSource>(std::move(device), std::move(info), std::move(silence),
                                      patience);
}

}  // namespace nearpoint
