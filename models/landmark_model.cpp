#include "models/landmark_model.h"

#include <cstdlib>
#include <filesystem>

#include "models/verified_cache.h"

namespace nearpoint {

Result<std::string> FindLandmarkModel() {
  const char* chosen = std::getenv("NEARPOINT_MODEL_DIR");
  const bool by_user = chosen != nullptr && *chosen != '\0';
  const std::filesystem::path file = std::filesystem::path(by_user ? chosen : NEARPOINT_MODEL_DIR) /
                                     "shape_predictor_68_face_landmarks.dat";
  std::error_code ignored;
  if (std::filesystem::is_regular_file(file, ignored)) return file.string();
  return Fail(ErrorCode::kNotFound, "The landmark model " + file.string() + " is missing; " +
                                        (by_user ? "correct or unset NEARPOINT_MODEL_DIR."
                                                 : "install the package libdlib-data."));
}

Result<void> VerifyModel(const std::string& path) {
  return VerifyFile(path, std::string(kLandmarkModelSha256), "the landmark model", CacheFolder());
}

}  // namespace nearpoint
