#include "app/live/live_queue.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace nearpoint {
namespace {

bool IsPicture(const LiveItem& item) {
  return std::holds_alternative<LiveFrame>(item) || std::holds_alternative<CardLook>(item);
}

}  // namespace

bool LiveQueue::Push(const std::stop_token& stop, LiveItem item, WhenFull when_full) {
  std::unique_lock lock(mutex_);
  if (when_full == WhenFull::kWait) {
    room_.wait(lock, stop, [this] { return items_.size() < kRoom; });
    if (stop.stop_requested()) return false;
  } else if (items_.size() >= kRoom) {
    if (const auto oldest = std::ranges::find_if(items_, IsPicture); oldest != items_.end()) {
      items_.erase(oldest);
      ++dropped_;
    }
  }
  const bool was_empty = items_.empty();
  items_.push_back(std::move(item));
  return was_empty;
}

std::vector<LiveItem> LiveQueue::TakeAll() {
  std::vector<LiveItem> items;
  {
    const std::lock_guard lock(mutex_);
    items.assign(std::make_move_iterator(items_.begin()), std::make_move_iterator(items_.end()));
    items_.clear();
  }
  room_.notify_all();
  return items;
}

std::int64_t LiveQueue::dropped() const {
  const std::lock_guard lock(mutex_);
  return dropped_;
}

}  // namespace nearpoint
