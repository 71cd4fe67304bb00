// The camera of the home program as a LiveSource.
#pragma once

#include <string>

#include "app/live/live.h"

namespace nearpoint {

// spec as OpenSource takes it. known: the profile to measure with; its camera must fit the pictures
// when `calibrated`, otherwise the camera's part is replaced by what an ordinary webcam of that
// picture size has, with the uncertainty of not knowing.
[[nodiscard]] OpenLiveSource OpenCamera(std::string spec, Profile known, bool calibrated,
                                        const TrackerOptions& tracker = {});

// A webcam that nobody calibrated: 60 to 78 degrees across the diagonal is usual for laptops (from
// memory, no source), so the focal length is taken for 70 degrees with a deviation of 7 %.
[[nodiscard]] CameraIntrinsics OrdinaryWebcam(int width, int height);

}  // namespace nearpoint
