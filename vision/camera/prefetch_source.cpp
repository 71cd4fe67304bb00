#include "vision/camera/prefetch_source.h"

#include <condition_variable>
#include <deque>
#include <mutex>
#include <thread>
#include <utility>

namespace nearpoint {
namespace {

class PrefetchSource final : public FrameSource {
 public:
  PrefetchSource(std::unique_ptr<FrameSource> source, std::size_t depth)
      : source_(std::move(source)), depth_(depth), info_(source_->info()) {
    thread_ = std::jthread([this](const std::stop_token& stop) { Run(stop); });
  }

  PrefetchSource(const PrefetchSource&) = delete;
  PrefetchSource& operator=(const PrefetchSource&) = delete;

  const SourceInfo& info() const override { return info_; }

  Result<std::optional<Frame>> Next() override {
    std::unique_lock lock(mutex_);
    changed_.wait(lock, [this] { return !queue_.empty(); });
    Item& front = queue_.front();
    info_ = front.info;
    if (Ends(front.frame)) return front.frame;  // stays: every later call returns the same
    auto frame = std::move(front.frame);
    queue_.pop_front();
    changed_.notify_all();
    return frame;
  }

 private:
  struct Item {
    Result<std::optional<Frame>> frame;
    SourceInfo info;
  };

  static bool Ends(const Result<std::optional<Frame>>& frame) { return !frame || !*frame; }

  void Run(const std::stop_token& stop) {
    for (;;) {
      auto frame = source_->Next();
      const bool last = Ends(frame);
      std::unique_lock lock(mutex_);
      if (!changed_.wait(lock, stop, [this] { return queue_.size() < depth_; })) return;
      queue_.push_back({std::move(frame), source_->info()});
      changed_.notify_all();
      if (last) return;
    }
  }

  std::unique_ptr<FrameSource> source_;  // used by the thread alone once it runs
  std::size_t depth_;
  SourceInfo info_;  // as it was when the frame last given was read
  std::mutex mutex_;
  std::condition_variable_any changed_;
  std::deque<Item> queue_;  // guarded by mutex_
  std::jthread thread_;     // last: it stops and joins before what it uses goes
};

}  // namespace

std::unique_ptr<FrameSource> ReadAhead(std::unique_ptr<FrameSource> source, std::size_t depth) {
  return std::make_unique<PrefetchSource>(std::move(source), depth);
}

}  // namespace nearpoint
