#include "app/live/worker.h"

#include <sys/resource.h>
#include <unistd.h>

#include <exception>
#include <optional>
#include <utility>

#include "app/cli/session_run.h"
#include "app/live/preview.h"

namespace nearpoint {
namespace {

// Two seconds of frames. A window that takes longer to look loses the oldest of a camera; a
// simulated patient waits.
constexpr std::size_t kQueueRoom = 64;
constexpr int kVisionNice = 5;
constexpr Time kPreviewEvery = FromMilliseconds(40);

Error Ended() { return {ErrorCode::kUnavailable, "The source of the pictures came to its end."}; }

}  // namespace

LiveWorker::LiveWorker(OpenLiveSource open, std::function<void()> notify)
    : open_(std::move(open)), notify_(std::move(notify)) {
  thread_ = std::jthread([this](const std::stop_token& stop) { Run(stop); });
}

LiveWorker::~LiveWorker() = default;

std::vector<LiveItem> LiveWorker::TakeAll() {
  std::vector<LiveItem> items;
  {
    const std::lock_guard lock(mutex_);
    items.assign(std::make_move_iterator(queue_.begin()), std::make_move_iterator(queue_.end()));
    queue_.clear();
  }
  room_.notify_all();
  return items;
}

void LiveWorker::BeginTrial(int number) {
  std::function<void(int)> begin;
  {
    const std::lock_guard lock(mutex_);
    begin = begin_trial_;
  }
  if (begin) begin(number);
}

LiveFacts LiveWorker::facts() const {
  const std::lock_guard lock(mutex_);
  return facts_;
}

bool LiveWorker::ended() const {
  const std::lock_guard lock(mutex_);
  return ended_;
}

void LiveWorker::Push(const std::stop_token& stop, LiveItem item) {
  bool was_empty = false;
  {
    std::unique_lock lock(mutex_);
    if (facts_.simulated) {
      room_.wait(lock, stop, [this] { return queue_.size() < kQueueRoom; });
      if (stop.stop_requested()) return;
    } else if (queue_.size() >= kQueueRoom) {
      queue_.pop_front();
      ++facts_.missing;
    }
    was_empty = queue_.empty();
    queue_.push_back(std::move(item));
  }
  if (was_empty) notify_();
}

void LiveWorker::Run(const std::stop_token& stop) {
  // The window paints first where both want the same processor; a frame can wait a little, a person
  // who pressed a key cannot. Where it is not allowed, nothing is lost but that.
  static_cast<void>(setpriority(PRIO_PROCESS, static_cast<id_t>(gettid()), kVisionNice));
  Result<void> done;
  try {
    done = Work(stop);
  } catch (const std::exception& error) {
    // A library threw (out of memory): the thread must end with a word, not the program.
    done = Fail(ErrorCode::kUnavailable,
                std::string("The pictures could not be worked on: ") + error.what() + ".");
  }
  {
    const std::lock_guard lock(mutex_);
    ended_ = true;
    begin_trial_ = nullptr;
  }
  if (!done && !stop.stop_requested()) Push(stop, done.error());
}

Result<void> LiveWorker::Work(const std::stop_token& stop) {
  auto source = open_();
  if (!source) return tl::unexpected(source.error());
  auto tracker = MakeTracker(source->profile);
  if (!tracker) return tl::unexpected(tracker.error());
  {
    const std::lock_guard lock(mutex_);
    facts_.profile = source->profile;
    facts_.description = source->frames->info().description;
    facts_.simulated = source->simulated;
    facts_.shared = SharedOf(*tracker, source->profile);
    begin_trial_ = source->begin_trial;
  }
  Push(stop, LiveStarted());

  std::optional<Time> last_preview;
  while (!stop.stop_requested()) {
    auto frame = source->frames->Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) return tl::unexpected(Ended());
    const auto sample = tracker->Process(**frame);
    if (!sample) return tl::unexpected(sample.error());

    LiveFrame live;
    live.sample = *sample;
    live.skipped_before = (*frame)->skipped_before();
    live.brightness = MiddleBrightness((*frame)->bgr());
    // Time running back (a camera opened again) also asks for a new picture.
    if (!last_preview || sample->time < *last_preview ||
        sample->time - *last_preview >= kPreviewEvery) {
      live.preview = MirroredPreview((*frame)->bgr());
      last_preview = sample->time;
    }
    {
      const std::lock_guard lock(mutex_);
      ++facts_.frames;
      facts_.missing += live.skipped_before;
      facts_.shared = SharedOf(*tracker, source->profile);
    }
    if (source->sees_two) live.sees_two = source->sees_two();
    if (source->presses) {
      for (const LivePress& press : source->presses()) Push(stop, press);
    }
    Push(stop, std::move(live));
  }
  return {};
}

}  // namespace nearpoint
