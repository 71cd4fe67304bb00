// Where the trials of a guided measurement go, and what follows it: a person's own history at home,
// the record of an event at a school.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/guide/measure_flow.h"
#include "app/live/live.h"
#include "app/window/page.h"

namespace nearpoint {

class TrialKeeper {
 public:
  virtual ~TrialKeeper() = default;

  // The trials that were there already.
  [[nodiscard]] virtual const std::vector<Trial>& earlier() const = 0;
  // What the answer is held against, and how many trials it may take.
  [[nodiscard]] virtual const EstimateOptions& options() const = 0;
  [[nodiscard]] virtual StoppingPlan plan() const { return {}; }
  [[nodiscard]] virtual const std::optional<Error>& error() const = 0;
  // Pages after the last trial, and when somebody stops.
  [[nodiscard]] virtual PageId After() const = 0;
  [[nodiscard]] virtual PageId WayOut() const = 0;
  // False: it begins without a page of instructions and a press.
  [[nodiscard]] virtual bool instructs() const { return true; }

  // Whether pictures of the eyes may be kept: AddEyeStrip then gets them.
  [[nodiscard]] virtual EyeStrips eye_strips() const { return EyeStrips::kNone; }

  // Each frame as it comes: writing it out there and then leaves little to do when a trial ends.
  virtual void AddFrame(const DistanceSample& sample) = 0;
  // Both eyes of the frame of that time, as JPEG.
  virtual void AddEyeStrip(Time /*time*/, const std::string& /*jpeg*/) {}
  // A trial whose frames were all added.
  [[nodiscard]] virtual Result<void> Keep(const FlowTrial& trial, const MeasureFlow& flow,
                                          const LiveFacts& facts) = 0;
  // The earlier trials answer already: nothing is left to measure.
  [[nodiscard]] virtual Result<void> Finish(const MeasureFlow& /*flow*/,
                                            const LiveFacts& /*facts*/) {
    return {};
  }
};

}  // namespace nearpoint
