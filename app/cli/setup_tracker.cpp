#include "app/cli/setup_tracker.h"

#include <utility>

namespace nearpoint {

Result<SetupTracker> SetupTracker::Create(const Profile& profile, const TrackerModels& models,
                                          const TrackerOptions& options) {
  if (profile.held_card) {
    auto tracker = HeldCardTracker::Create(profile, models.landmark_file);
    if (!tracker) return tl::unexpected(tracker.error());
    return SetupTracker(*std::move(tracker));
  }
  auto tracker = Tracker::Create(profile, models, options);
  if (!tracker) return tl::unexpected(tracker.error());
  return SetupTracker(*std::move(tracker));
}

Result<DistanceSample> SetupTracker::Process(const Frame& frame) {
  return std::visit([&](auto& tracker) { return tracker.Process(frame); }, tracker_);
}

SharedUncertainty SetupTracker::shared_uncertainty() const {
  return std::visit([](const auto& tracker) { return tracker.shared_uncertainty(); }, tracker_);
}

}  // namespace nearpoint
