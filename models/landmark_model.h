// The files of the learned models, the 68 landmarks of a face, the eye finder and reader, and the
// lid corners: where they are, and that they are the ones this program was made with. See
// README.md.
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

inline constexpr std::string_view kLidCornerModelFile = "lid_corners.dat";
inline constexpr std::string_view kLidCornerModelSha256 =
    "c9a36b7034383d5d30d380c3025217e1da263d7e9018892745aabb5bec10c2fe";

// In the folder of NEARPOINT_MODEL_DIR if it is set and has the file, else where the program was
// installed, else in the source tree it was built from. Errors: kNotFound, naming the places.
[[nodiscard]] Result<std::string> FindLidCornerModel();

inline constexpr std::string_view kEyeFinderModelFile = "eye_finder.onnx";
inline constexpr std::string_view kEyeFinderModelSha256 =
    "fb66d8084b224dd4a72e787ba69a99817cb026806308ff0214b2026685e90c26";
inline constexpr std::string_view kEyeReaderModelFile = "eye_reader.onnx";
inline constexpr std::string_view kEyeReaderModelSha256 =
    "482572fdaca98d5e8cc208c6d780e701d67b4a161e2c63350886017776ba2778";

// Likewise.
[[nodiscard]] Result<std::string> FindEyeFinderModel();
[[nodiscard]] Result<std::string> FindEyeReaderModel();

// kMismatch with both hashes unless the file is the model of its name: a file with the name of one
// of our own models is held against that, any other against the landmarks. The landmark model, 100
// MB, is read once per installation (verified_cache.h), the small ones at each call.
[[nodiscard]] Result<void> VerifyModel(const std::string& path);

}  // namespace nearpoint
