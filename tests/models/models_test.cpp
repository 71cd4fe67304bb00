#include <gmock/gmock.h>

#include <cstdlib>
#include <filesystem>

#include "models/landmark_model.h"
#include "models/sha256.h"
#include "models/verified_cache.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

// FIPS 180-4 examples: the empty message, "abc", and a million times "a".
constexpr const char* kEmpty = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
constexpr const char* kAbc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
constexpr const char* kMillion = "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0";

TEST(Sha256Test, GivesThePublishedValues) {
  const TempFolder folder;
  EXPECT_EQ(Sha256OfFile(folder.Write("a", "")).value(), kEmpty);
  EXPECT_EQ(Sha256OfFile(folder.Write("a", "abc")).value(), kAbc);
  EXPECT_EQ(Sha256OfFile(folder.Write("a", std::string(1000000, 'a'))).value(), kMillion);
  EXPECT_THAT(Sha256OfFile(folder / "none"), FailsWith(ErrorCode::kNotFound, HasSubstr("none")));
}

TEST(VerifyFileTest, RefusesAnotherFileWithBothHashes) {
  const TempFolder folder;
  const std::string file = folder.Write("model.dat", "ab");
  EXPECT_THAT(
      VerifyFile(file, kAbc, "the model", folder.path() / "cache"),
      FailsWith(
          ErrorCode::kMismatch,
          AllOf(HasSubstr("model.dat"), HasSubstr(kAbc),
                HasSubstr("fb8e20fc2e4c3f248c60c39bd652f3c1347298bb977b8b4d5903b85055620603"))));
  EXPECT_THAT(VerifyFile(folder / "none", kAbc, "the model", {}),
              FailsWith(ErrorCode::kNotFound, HasSubstr("none")));
}

TEST(VerifyFileTest, ReadsAFileOncePerInstallation) {
  const TempFolder folder;
  const auto cache = folder.path() / "deep" / "cache";
  const std::string file = folder.Write("model.dat", "abc");
  EXPECT_THAT(VerifyFile(file, kAbc, "the model", cache), IsOk());
  // Other content with the same size and time shows that it is not read again ...
  const auto time = std::filesystem::last_write_time(file);
  folder.Write("model.dat", "xyz");
  std::filesystem::last_write_time(file, time);
  EXPECT_THAT(VerifyFile(file, kAbc, "the model", cache), IsOk());
  EXPECT_THAT(VerifyFile(file, kEmpty, "another model", cache),
              FailsWith(ErrorCode::kMismatch, HasSubstr(kEmpty)));
  // ... and another time or size that it is.
  std::filesystem::last_write_time(file, time + std::chrono::seconds(1));
  EXPECT_THAT(VerifyFile(file, kAbc, "the model", cache),
              FailsWith(ErrorCode::kMismatch, HasSubstr(kAbc)));
  folder.Write("model.dat", "abcd");
  std::filesystem::last_write_time(file, time);
  EXPECT_THAT(VerifyFile(file, kAbc, "the model", cache),
              FailsWith(ErrorCode::kMismatch, HasSubstr(kAbc)));
}

TEST(VerifyFileTest, DoesWithoutACache) {
  const TempFolder folder;
  const std::string file = folder.Write("model.dat", "abc");
  EXPECT_THAT(VerifyFile(file, kAbc, "the model", {}), IsOk());
  EXPECT_THAT(VerifyFile(file, kAbc, "the model", file), IsOk());  // no folder can be made there
  EXPECT_EQ(folder.Count(), 1);
}

TEST(LandmarkModelTest, IsFoundWhereTheUserSays) {
  const TempFolder folder;
  setenv("NEARPOINT_MODEL_DIR", folder.path().c_str(), 1);
  EXPECT_THAT(FindLandmarkModel(),
              FailsWith(ErrorCode::kNotFound, HasSubstr("NEARPOINT_MODEL_DIR")));
  const std::string file = folder.Write("shape_predictor_68_face_landmarks.dat", "short");
  EXPECT_EQ(FindLandmarkModel().value(), file);
  EXPECT_THAT(VerifyModel(file),
              FailsWith(ErrorCode::kMismatch, HasSubstr(std::string(kLandmarkModelSha256))));
  unsetenv("NEARPOINT_MODEL_DIR");
}

TEST(LandmarkModelTest, IsTheOneOfThePackage) {
  const auto file = FindLandmarkModel();
  ASSERT_THAT(file, IsOk());
  EXPECT_EQ(std::filesystem::file_size(*file), 99693937u);
  EXPECT_EQ(Sha256OfFile(*file).value(), kLandmarkModelSha256);
}

}  // namespace
}  // namespace nearpoint
