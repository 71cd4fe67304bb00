#include "models/landmark_model.h"

#include <array>
#include <cstdlib>
#include <filesystem>
#include <vector>

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

namespace {

Result<std::string> FindOwnModel(std::string_view name, const std::string& in_words) {
  namespace fs = std::filesystem;
  std::vector<fs::path> folders{NEARPOINT_INSTALLED_MODEL_DIR, NEARPOINT_SOURCE_MODEL_DIR};
  const char* chosen = std::getenv("NEARPOINT_MODEL_DIR");
  if (chosen != nullptr && *chosen != '\0') folders.insert(folders.begin(), chosen);
  std::string looked;
  for (const fs::path& folder : folders) {
    const fs::path file = folder / name;
    std::error_code ignored;
    if (fs::is_regular_file(file, ignored)) return file.string();
    looked += (looked.empty() ? "" : ", ") + folder.string();
  }
  return Fail(ErrorCode::kNotFound, "The " + in_words + " model " + std::string(name) +
                                        " is in none of " + looked +
                                        "; install the program again or set NEARPOINT_MODEL_DIR.");
}

}  // namespace

Result<std::string> FindLidCornerModel() { return FindOwnModel(kLidCornerModelFile, "lid corner"); }

Result<std::string> FindEyeFinderModel() { return FindOwnModel(kEyeFinderModelFile, "eye finder"); }

Result<std::string> FindEyeReaderModel() { return FindOwnModel(kEyeReaderModelFile, "eye reader"); }

Result<void> VerifyModel(const std::string& path) {
  struct Own {
    std::string_view file, sha256;
    const char* in_words;
  };
  constexpr std::array<Own, 3> kOwn{
      Own{kEyeFinderModelFile, kEyeFinderModelSha256, "the eye finder model"},
      Own{kEyeReaderModelFile, kEyeReaderModelSha256, "the eye reader model"},
      Own{kLidCornerModelFile, kLidCornerModelSha256, "the lid corner model"}};
  const auto name = std::filesystem::path(path).filename();
  for (const Own& own : kOwn) {
    if (name == own.file) return VerifyFile(path, std::string(own.sha256), own.in_words, {});
  }
  return VerifyFile(path, std::string(kLandmarkModelSha256), "the landmark model", CacheFolder());
}

}  // namespace nearpoint
