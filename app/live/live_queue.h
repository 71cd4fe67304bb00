// What the vision thread has for the window, in order, and never more than two seconds of it.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <deque>
#include <mutex>
#include <stop_token>
#include <variant>
#include <vector>

#include "app/live/card_look.h"
#include "app/live/live_frame.h"
#include "vision/core/result.h"

namespace nearpoint {

struct LiveStarted {};
using LiveItem = std::variant<LiveStarted, LiveFrame, LivePress, CardLook, Error>;

// One thread pushes, another takes.
class LiveQueue {
 public:
  static constexpr std::size_t kRoom = 64;

  // What happens to an item that finds the queue full. A simulated patient waits; of a camera the
  // oldest picture gives way, and never a word (that it started, that it failed).
  enum class WhenFull { kWait, kDropOldestPicture };

  // True when the queue was empty before, so that whoever takes must be told. Without effect once
  // `stop` is requested while it waits.
  bool Push(const std::stop_token& stop, LiveItem item, WhenFull when_full);
  [[nodiscard]] std::vector<LiveItem> TakeAll();
  // Pictures that gave way.
  [[nodiscard]] std::int64_t dropped() const;

 private:
  mutable std::mutex mutex_;
  std::condition_variable_any room_;
  std::deque<LiveItem> items_;  // guarded by mutex_
  std::int64_t dropped_ = 0;    // guarded by mutex_
};

}  // namespace nearpoint
