// The tracker of the set-up that a profile is for: leaning in to a target, or a card that is
// brought to the face. Both give the same samples.
#pragma once

#include <variant>

#include "vision/pipeline/held_card_tracker.h"
#include "vision/pipeline/tracker.h"

namespace nearpoint {

class SetupTracker {
 public:
  // options: of leaning in. Errors: those of the tracker that the profile asks for.
  [[nodiscard]] static Result<SetupTracker> Create(const Profile& profile,
                                                   const TrackerModels& models,
                                                   const TrackerOptions& options = {});
  [[nodiscard]] Result<DistanceSample> Process(const Frame& frame);
  [[nodiscard]] SharedUncertainty shared_uncertainty() const;

 private:
  using Any = std::variant<Tracker, HeldCardTracker>;
  explicit SetupTracker(Any tracker) : tracker_(std::move(tracker)) {}
  Any tracker_;
};

// Finds and verifies the model and loads it: about half a second.
[[nodiscard]] Result<SetupTracker> MakeTracker(const Profile& profile,
                                               const TrackerOptions& options = {});

}  // namespace nearpoint
