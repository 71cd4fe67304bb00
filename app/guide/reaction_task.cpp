#include "app/guide/reaction_task.h"

#include <utility>

namespace nearpoint {

ReactionTask::ReactionTask(std::uint64_t seed) : waits_(DrawForeperiods(kMostWaits, seed)) {}

Time ReactionTask::wait() const { return waits_[next_wait_ % waits_.size()]; }

void ReactionTask::Shown(Time at) { shown_ = at; }

bool ReactionTask::OnPress(Time at) {
  ++next_wait_;
  const auto shown = std::exchange(shown_, std::nullopt);
  if (!shown) return false;
  presses_.push_back({*shown, at});
  return true;
}

void ReactionTask::Missed() {
  const auto shown = std::exchange(shown_, std::nullopt);
  if (!shown) return;
  ++next_wait_;
  presses_.push_back({*shown, std::nullopt});
}

bool ReactionTask::done() const {
  return marks() >= kLagPresses || next_wait_ >= static_cast<std::size_t>(kMostWaits);
}

}  // namespace nearpoint
