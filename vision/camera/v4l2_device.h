// What a Video4Linux device says of itself, asked of the driver before OpenCV opens it: OpenCV
// tells neither the modes nor why it could not open.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "vision/camera/camera_mode.h"
#include "vision/core/result.h"

namespace nearpoint {

// The modes in which pictures can be had that this program reads; may be empty for an old driver. A
// range of sizes is given as its usual ones, and `wanted` where it lies inside. name: for the
// messages. Errors: kNotFound (no such device, or it gives no pictures), kUnavailable (busy, or
// this user may not use it).
[[nodiscard]] Result<std::vector<CameraMode>> ListModes(const std::string& device,
                                                        const std::string& name,
                                                        std::optional<ImageSize> wanted);

// Whether another program holds the device. It starts the device for a moment to find out, so it is
// for the case that opening has failed.
[[nodiscard]] bool IsInUse(const std::string& device);

// "camera 0 is in use by another program; close it first."
[[nodiscard]] Error InUse(const std::string& name);

}  // namespace nearpoint
