#include "app/window/event/child_card.h"

#include <utility>

#include "app/window/keep_calibration.h"
#include "app/window/profile_defaults.h"
#include "calibration/profile_json.h"

namespace nearpoint {
namespace {

constexpr const char* kCamera = "camera_profile";  // a setting of the station

// The parts that belong to a device, with everything else as for a stranger.
Profile OfTheDevice(const Profile& profile) {
  Profile device = DefaultProfile();
  device.camera = profile.camera;
  device.target_mm = profile.target_mm;
  device.target_sd = profile.target_sd;
  device.made.camera = profile.made.camera;
  device.print = profile.print;
  device.made.print = profile.made.print;
  device.made.target = profile.made.target;
  return device;
}

}  // namespace

Profile StationProfile(const AppContext& home, const EventStore& store) {
  Profile profile = OfTheDevice(home.profile);
  const QString text = store.Setting(kCamera);
  if (text.isEmpty()) return profile;
  const auto kept = ParseProfile(text.toStdString(), "camera of this station");
  if (!kept) return profile;
  profile.camera = kept->camera;
  profile.made.camera = kept->made.camera;
  profile.print = kept->print;
  profile.made.print = kept->made.print;
  return profile;
}

ChildCard::ChildCard(const AppContext& home, const EventStore& store, Uuid child)
    : child_(std::move(child)), context_(home.store, home.live, home.sound) {
  context_.practice = home.practice;
  context_.open_source = home.open_source;
  context_.open_card_source = home.open_card_source;
  context_.camera = home.camera;
  context_.profile = StationProfile(home, store);
  context_.calibrated = IsMeasured(context_.profile.camera);
}

Result<void> ChildCard::KeepCamera(EventStore& store) const {
  if (!context_.calibrated || !context_.profile.made.camera) return {};
  return store.SetSetting(kCamera,
                          QString::fromStdString(SerializeProfile(OfTheDevice(context_.profile))));
}

}  // namespace nearpoint
