// The vision thread and its bounded queue. Knows no window.
#pragma once

#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <vector>

#include "app/live/live.h"
#include "app/live/live_queue.h"

namespace nearpoint {

class LiveWorker {
 public:
  // task: absent for measuring. notify is called from the thread when the queue, empty before, has
  // something.
  LiveWorker(OpenLiveSource open, std::optional<CardTask> task, EyeStrips strips,
             std::function<void()> notify);
  // Asks the thread to end and waits for it: at most as long as one frame takes.
  ~LiveWorker();
  LiveWorker(const LiveWorker&) = delete;
  LiveWorker& operator=(const LiveWorker&) = delete;

  [[nodiscard]] std::vector<LiveItem> TakeAll();
  void BeginTrial(int number);
  [[nodiscard]] LiveFacts facts() const;
  [[nodiscard]] bool ended() const;

 private:
  void Run(const std::stop_token& stop);
  Result<void> Work(const std::stop_token& stop);
  Result<void> Measure(const std::stop_token& stop, LiveSource& source);
  Result<void> Calibrate(const std::stop_token& stop, LiveSource& source);
  void Publish(LiveFacts facts, std::function<void(int)> begin_trial);
  void Push(const std::stop_token& stop, LiveItem item);

  OpenLiveSource open_;
  std::optional<CardTask> task_;
  EyeStrips strips_;
  std::function<void()> notify_;
  LiveQueue queue_;
  mutable std::mutex mutex_;
  LiveFacts facts_;                       // guarded by mutex_
  std::function<void(int)> begin_trial_;  // guarded by mutex_
  bool ended_ = false;                    // guarded by mutex_
  std::jthread thread_;                   // last: it uses all of the above
};

}  // namespace nearpoint
