#include "app/window/profile_defaults.h"

#include "app/live/open_camera.h"
#include "calibration/lag_task.h"

namespace nearpoint {

Profile DefaultProfile() {
  Profile profile;
  profile.camera = OrdinaryWebcam(1280, 720);
  // A printed target fixed under the lens; nobody measured where exactly (a guess made wide).
  profile.target_mm = {0, 20, 0};
  profile.target_sd = Length::Millimeters(4);
  profile.lag = FromMilliseconds(kAssumedLagMs);
  profile.lag_sd = FromMilliseconds(kAssumedLagSdMs);
  return profile;
}

}  // namespace nearpoint
