// The trials of one child at an event: each is on disk the moment it has ended, and the measurement
// with the last of them.
#pragma once

#include <optional>
#include <vector>

#include "app/event/by_the_eyes.h"
#include "app/window/event/event_context.h"
#include "app/window/trial_keeper.h"

namespace nearpoint {

class EventKeeper : public TrialKeeper {
 public:
  EventKeeper(AppContext& context, EventContext& event);
  // Goes on with what this station measured of the child before where `event` says so. A child who
  // was begun and not measured waits as paused.
  ~EventKeeper() override;

  [[nodiscard]] const std::vector<Trial>& earlier() const override { return earlier_; }
  [[nodiscard]] const EstimateOptions& options() const override { return options_; }
  [[nodiscard]] StoppingPlan plan() const override { return plan_; }
  [[nodiscard]] const std::optional<Error>& error() const override { return error_; }
  [[nodiscard]] PageId After() const override { return PageId::kStationDone; }
  [[nodiscard]] PageId WayOut() const override { return PageId::kStation; }
  [[nodiscard]] bool instructs() const override { return false; }
  void AddFrame(const DistanceSample& sample) override;
  [[nodiscard]] Result<void> Keep(const FlowTrial& trial, const MeasureFlow& flow,
                                  const LiveFacts& facts) override;
  [[nodiscard]] Result<void> Finish(const MeasureFlow& flow, const LiveFacts& facts) override;

 private:
  void ReadEarlier(const ChildState& child);
  [[nodiscard]] std::string SessionText(const MeasureFlow& flow, const LiveFacts& facts) const;

  AppContext& context_;
  EventContext& event_;
  EstimateOptions options_;
  StoppingPlan plan_;
  std::vector<Trial> earlier_;
  std::vector<TrialEyes> eyes_;  // of the earlier trials too
  std::int64_t frames_ = 0, frames_lost_ = 0;
  std::optional<Error> error_;
  bool finished_ = false;  // the measurement was given to be written
};

}  // namespace nearpoint
