#include "app/live/live.h"

#include <QMetaObject>
#include <utility>

#include "app/live/worker.h"

namespace nearpoint {

Live::Live(QObject* parent) : QObject(parent) {
  qRegisterMetaType<LiveFrame>();
  qRegisterMetaType<LivePress>();
  qRegisterMetaType<CardLook>();
  qRegisterMetaType<Error>();
}

Live::~Live() { Stop(); }

void Live::Start(OpenLiveSource open, EyeStrips strips) { Begin(std::move(open), {}, strips); }

void Live::StartCard(OpenLiveSource open, CardTask task) {
  Begin(std::move(open), task, EyeStrips::kNone);
}

void Live::Begin(OpenLiveSource open, std::optional<CardTask> task, EyeStrips strips) {
  Stop();
  simulated_ = false;
  last_delivered_ = {};
  worker_ = std::make_unique<LiveWorker>(std::move(open), task, strips, [this] {
    // From the vision thread: one call waits at most, since Drain takes all there is.
    QMetaObject::invokeMethod(this, &Live::Drain, Qt::QueuedConnection);
  });
}

void Live::Stop() {
  worker_.reset();  // waits for the thread
}

bool Live::running() const { return worker_ != nullptr && !worker_->ended(); }

Time Live::Now() const {
  if (simulated_) return last_delivered_;
  return std::chrono::duration_cast<Time>(std::chrono::steady_clock::now().time_since_epoch());
}

void Live::BeginTrial(int number) {
  if (worker_) worker_->BeginTrial(number);
}

LiveFacts Live::facts() const { return worker_ ? worker_->facts() : LiveFacts(); }

void Live::Drain() {
  if (!worker_) return;
  const LiveWorker* const from = worker_.get();
  for (LiveItem& item : worker_->TakeAll()) {
    if (std::holds_alternative<LiveStarted>(item)) {
      simulated_ = worker_->facts().simulated;
      emit Started();
    } else if (const auto* frame = std::get_if<LiveFrame>(&item)) {
      last_delivered_ = frame->sample.time;
      emit FrameArrived(*frame);
    } else if (const auto* press = std::get_if<LivePress>(&item)) {
      emit PressArrived(*press);
    } else if (const auto* look = std::get_if<CardLook>(&item)) {
      emit Looked(*look);
    } else {
      emit Failed(std::get<Error>(item));
    }
    // Whoever listens may have stopped or restarted the source.
    if (worker_.get() != from) return;
  }
}

}  // namespace nearpoint
