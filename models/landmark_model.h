// The file of the 68-point landmark model: where it is, and that it is the one this program was
// made with. See README.md.
#pragma once

#include <string>
#include <string_view>

#include "vision/core/result.h"

namespace nearpoint {

inline constexpr std::string_view kLandmarkModelSha256 =
    "fbdc2cb80eb9aa7a758672cbfdda32ba6300efe9b6e6c7a299ff7e736b11b92f";

// In the folder of the environment variable NEARPOINT_MODEL_DIR if it is set, else where the
// distribution's package puts it. Errors: kNotFound, naming the package.
[[nodiscard]] Result<std::string> FindLandmarkModel();

// kMismatch with both hashes unless the file is that model. Reads the file once per installation
// (verified_cache.h).
[[nodiscard]] Result<void> VerifyModel(const std::string& path);

}  // namespace nearpoint
