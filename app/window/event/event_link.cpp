#include "app/window/event/event_link.h"

#include <chrono>
#include <utility>

#include "app/event_store/event_sync.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {

constexpr std::chrono::seconds kEvery{5};

EventLink::Status TryOnce(const QString& file, ServerLink& link) {
  EventLink::Status status;
  auto store = EventStore::Open(file);
  if (!store) {
    status.why = words::ForError(store.error());
    return status;
  }
  status.alone = store->Setting("server").isEmpty();
  if (!status.alone) {
    const auto report = link.Merge(*store);
    status.reached = report.has_value();
    if (!report) status.why = words::ForError(report.error());
  }
  status.waiting = Waiting(*store).value_or(0);
  status.locked = store->LockedEvents();
  return status;
}

}  // namespace

EventLink::EventLink(QString file, QObject* parent) : QObject(parent), file_(std::move(file)) {
  thread_ = std::jthread([this](const std::stop_token& stop) { Run(stop); });
}

EventLink::~EventLink() {
  thread_.request_stop();
  thread_.join();
}

void EventLink::Nudge() {
  {
    const std::lock_guard lock(mutex_);
    nudged_ = true;
  }
  wake_.notify_all();
}

void EventLink::Run(const std::stop_token& stop) {
  ServerLink link;  // made and used in this thread
  while (!stop.stop_requested()) {
    {
      std::unique_lock lock(mutex_);
      wake_.wait_for(lock, stop, kEvery, [this] { return nudged_; });
      nudged_ = false;
    }
    if (stop.stop_requested()) return;
    const Status status = TryOnce(file_, link);
    QMetaObject::invokeMethod(
        this,
        [this, status] {
          status_ = status;
          emit Tried();
        },
        Qt::QueuedConnection);
  }
}

}  // namespace nearpoint
