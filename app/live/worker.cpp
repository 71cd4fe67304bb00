#include "app/live/worker.h"

#include <sys/resource.h>
#include <unistd.h>

#include <exception>
#include <optional>
#include <utility>

#include "app/live/eye_strip.h"
#include "app/live/preview.h"
#include "app/run/run_facts.h"
#include "app/run/setup_tracker.h"

namespace nearpoint {
namespace {

constexpr int kVisionNice = 5;
constexpr Time kPreviewEvery = FromMilliseconds(40);

// Time running back (a camera opened again) also asks for a new picture.
class PreviewClock {
 public:
  bool Due(Time now) {
    if (last_ && now >= *last_ && now - *last_ < kPreviewEvery) return false;
    last_ = now;
    return true;
  }

 private:
  std::optional<Time> last_;
};

LiveFacts FactsOf(const LiveSource& source, const SharedCalibration& shared) {
  LiveFacts facts;
  facts.profile = source.profile;
  facts.description = source.frames->info().description;
  facts.live = source.frames->info().live;
  facts.simulated = source.simulated;
  facts.shared = shared;
  return facts;
}

Error Ended() { return {ErrorCode::kUnavailable, "The source of the pictures came to its end."}; }

}  // namespace

LiveWorker::LiveWorker(OpenLiveSource open, std::optional<CardTask> task, EyeStrips strips,
                       std::function<void()> notify)
    : open_(std::move(open)), task_(task), strips_(strips), notify_(std::move(notify)) {
  thread_ = std::jthread([this](const std::stop_token& stop) { Run(stop); });
}

LiveWorker::~LiveWorker() = default;

std::vector<LiveItem> LiveWorker::TakeAll() { return queue_.TakeAll(); }

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
  LiveFacts facts = facts_;
  facts.missing += queue_.dropped();
  return facts;
}

bool LiveWorker::ended() const {
  const std::lock_guard lock(mutex_);
  return ended_;
}

void LiveWorker::Push(const std::stop_token& stop, LiveItem item) {
  bool waits = false;
  {
    const std::lock_guard lock(mutex_);
    waits = facts_.simulated;
  }
  const auto when_full =
      waits ? LiveQueue::WhenFull::kWait : LiveQueue::WhenFull::kDropOldestPicture;
  if (queue_.Push(stop, std::move(item), when_full)) notify_();
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

void LiveWorker::Publish(LiveFacts facts, std::function<void(int)> begin_trial) {
  const std::lock_guard lock(mutex_);
  facts_ = std::move(facts);
  begin_trial_ = std::move(begin_trial);
}

Result<void> LiveWorker::Work(const std::stop_token& stop) {
  auto source = open_();
  if (!source) return tl::unexpected(source.error());
  return task_ ? Calibrate(stop, *source) : Measure(stop, *source);
}

Result<void> LiveWorker::Measure(const std::stop_token& stop, LiveSource& source) {
  auto tracker = MakeTracker(source.profile, source.tracker);
  if (!tracker) return tl::unexpected(tracker.error());
  Publish(FactsOf(source, SharedOf(*tracker, source.profile)), source.begin_trial);
  Push(stop, LiveStarted());

  PreviewClock previews;
  while (!stop.stop_requested()) {
    auto frame = source.frames->Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) return tl::unexpected(Ended());
    const auto sample = tracker->Process(**frame);
    if (!sample) return tl::unexpected(sample.error());

    LiveFrame live;
    live.sample = *sample;
    live.skipped_before = (*frame)->skipped_before();
    live.brightness = MiddleBrightness((*frame)->bgr());
    if (previews.Due(sample->time)) {
      live.preview = MirroredPreview((*frame)->bgr());
      if (strips_ == EyeStrips::kWithFrames) {
        live.eye_strip = CutEyeStrip((*frame)->bgr(), *sample).value_or(std::string());
      }
    }
    {
      const std::lock_guard lock(mutex_);
      ++facts_.frames;
      facts_.missing += live.skipped_before;
      facts_.shared = SharedOf(*tracker, source.profile);
    }
    if (source.sees_two) live.sees_two = source.sees_two();
    if (source.presses) {
      for (const LivePress& press : source.presses()) Push(stop, press);
    }
    Push(stop, std::move(live));
  }
  return {};
}

Result<void> LiveWorker::Calibrate(const std::stop_token& stop, LiveSource& source) {
  auto looker = CardLooker::Create(*task_, source.profile);
  if (!looker) return tl::unexpected(looker.error());
  Publish(FactsOf(source, {}), {});
  Push(stop, LiveStarted());
  PreviewClock previews;
  while (!stop.stop_requested()) {
    auto frame = source.frames->Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) return tl::unexpected(Ended());
    auto look = looker->Look(**frame);
    if (!look) return tl::unexpected(look.error());
    if (previews.Due(look->time)) look->preview = MirroredPreview((*frame)->bgr());
    {
      const std::lock_guard lock(mutex_);
      ++facts_.frames;
    }
    Push(stop, *std::move(look));
  }
  return {};
}

}  // namespace nearpoint
