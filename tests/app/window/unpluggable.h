// A camera that can be unplugged in the middle.
#pragma once

#include <atomic>
#include <memory>
#include <utility>

#include "app/live/live.h"

namespace nearpoint {

class Unpluggable : public FrameSource {
 public:
  Unpluggable(std::unique_ptr<FrameSource> source, std::shared_ptr<std::atomic<bool>> unplugged)
      : source_(std::move(source)), unplugged_(std::move(unplugged)) {}
  [[nodiscard]] const SourceInfo& info() const override { return source_->info(); }
  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    if (*unplugged_) return Fail(ErrorCode::kUnavailable, "camera 0 was unplugged.");
    return source_->Next();
  }

 private:
  std::unique_ptr<FrameSource> source_;
  std::shared_ptr<std::atomic<bool>> unplugged_;
};

// That source; unplugged while the flag is set.
inline OpenLiveSource OpenUnpluggable(OpenLiveSource open,
                                      std::shared_ptr<std::atomic<bool>> unplugged) {
  return [open = std::move(open), unplugged = std::move(unplugged)]() -> Result<LiveSource> {
    auto source = open();
    if (source)
      source->frames = std::make_unique<Unpluggable>(std::move(source->frames), unplugged);
    return source;
  };
}

}  // namespace nearpoint
