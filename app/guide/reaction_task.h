// The course of the reaction task, in the window and in the terminal alike: wait, mark, key, ten
// times. Whoever shows the marks tells it when; what the presses say is for EvaluateLag
// (calibration/lag_task.h). Pure: it reads no clock and waits for nothing.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "calibration/lag_task.h"
#include "vision/core/units.h"

namespace nearpoint {

class ReactionTask {
 public:
  // A mark that nobody answers for so long was missed.
  static constexpr Time kPatience = FromMilliseconds(2000);
  // Waits after presses that came too early among them; with the last of them the task is over.
  static constexpr int kMostWaits = 64;

  explicit ReactionTask(std::uint64_t seed);

  // How long to wait before the mark that comes next.
  [[nodiscard]] Time wait() const;
  void Shown(Time at);
  // False: too early. It takes none of the marks; the wait begins anew, with another length.
  bool OnPress(Time at);
  // kPatience went by.
  void Missed();

  [[nodiscard]] bool shown() const { return shown_.has_value(); }
  [[nodiscard]] int marks() const { return static_cast<int>(presses_.size()); }  // behind us
  [[nodiscard]] bool done() const;
  // One for each mark, in order of time.
  [[nodiscard]] const std::vector<LagPress>& presses() const { return presses_; }

 private:
  std::vector<Time> waits_;
  std::size_t next_wait_ = 0;
  std::optional<Time> shown_;
  std::vector<LagPress> presses_;
};

}  // namespace nearpoint
