#include "app/run/setup_tracker.h"

#include <utility>

#include "models/landmark_model.h"

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

Result<SetupTracker> MakeTracker(const Profile& profile, const TrackerOptions& options) {
  const auto file = FindLandmarkModel();
  if (!file) return tl::unexpected(file.error());
  if (auto verified = VerifyModel(*file); !verified) return tl::unexpected(verified.error());
  const auto finder = FindEyeFinderModel();
  const auto reader = FindEyeReaderModel();
  for (const auto* model : {&finder, &reader}) {
    if (!*model) return tl::unexpected(model->error());
    if (auto verified = VerifyModel(**model); !verified) return tl::unexpected(verified.error());
  }
  return SetupTracker::Create(profile, TrackerModels{*file, *finder, *reader}, options);
}

}  // namespace nearpoint
