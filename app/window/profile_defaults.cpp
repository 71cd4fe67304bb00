#include "app/window/profile_defaults.h"

#include "app/live/open_camera.h"

namespace nearpoint {

Profile DefaultProfile() {
  Profile profile;
  profile.camera = OrdinaryWebcam(1280, 720);
  // A printed target fixed under the lens; nobody measured where exactly (a guess made wide).
  profile.target_mm = {0, 20, 0};
  profile.target_sd = Length::Millimeters(4);
  // The three means of McGinnis et al., J Eye Mov Res 2019;12(4) over speed imply 0.32 s in young
  // adults (computed); the spread between people was not found and is a guess.
  profile.lag = FromMilliseconds(320);
  profile.lag_sd = FromMilliseconds(100);
  return profile;
}

}  // namespace nearpoint
