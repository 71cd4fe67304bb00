// A tracker sees frames and nothing else: truth travels only through the sink of whoever made the
// patient.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <string>
#include <type_traits>

#include "vision/simulate/patient.h"

namespace nearpoint::simulate {
namespace {

// What a source hands out is a plain Frame, and a Frame is made of an index, a time, pixels and a
// count of lost frames.
static_assert(
    std::is_same_v<decltype(std::declval<FrameSource&>().Next()), Result<std::optional<Frame>>>);
static_assert(std::is_constructible_v<Frame, std::int64_t, Time, cv::Mat, std::int64_t>);
static_assert(!std::is_constructible_v<Frame, std::int64_t, Time, cv::Mat, FrameTruth>);
static_assert(!std::is_convertible_v<Frame, FrameTruth> &&
              !std::is_constructible_v<FrameTruth, Frame>);
static_assert(!std::is_base_of_v<FrameTruth, Frame>);
template <typename T>
concept CarriesTruth = requires(const T& t) {
  t.truth();
}
|| requires(const T& t) { t.left_eye; };
static_assert(!CarriesTruth<Frame> && CarriesTruth<FrameTruth>);
static_assert(std::is_invocable_v<TruthSink, const FrameTruth&>);
static_assert(std::is_same_v<decltype(MakePatient(std::declval<PatientOptions>(), TruthSink())),
                             Result<std::unique_ptr<FrameSource>>>);

namespace fs = std::filesystem;

// All project files that a file includes, directly or through others.
void Follow(const fs::path& root, const std::string& file, std::set<std::string>& seen) {
  if (!seen.insert(file).second) return;
  std::ifstream in(root / file);
  static const std::regex kInclude("^\\s*#\\s*include\\s*\"([^\"]+)\"");
  for (std::string line; std::getline(in, line);) {
    std::smatch match;
    if (std::regex_search(line, match, kInclude) && fs::exists(root / match[1].str())) {
      Follow(root, match[1], seen);
    }
  }
}

std::set<std::string> IncludesOfFolder(const fs::path& root, const std::string& folder) {
  std::set<std::string> seen;
  if (!fs::exists(root / folder)) return seen;
  for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
    const std::string extension = entry.path().extension().string();
    if (extension == ".h" || extension == ".cpp") {
      Follow(root, fs::relative(entry.path(), root).generic_string(), seen);
    }
  }
  return seen;
}

bool ReachesSimulate(const std::set<std::string>& files) {
  for (const std::string& file : files) {
    if (file.find("simulate") != std::string::npos) return true;
  }
  return false;
}

TEST(SimulateIsolation, NoTrackingFolderIncludesIt) {
  const fs::path root(NEARPOINT_SOURCE_DIR);
  ASSERT_TRUE(fs::exists(root / "vision/simulate/truth.h"));
  for (const char* folder : {"vision/core", "vision/camera", "vision/face", "vision/eyes",
                             "vision/distance", "vision/pipeline", "calibration", "app/measure"}) {
    for (const std::string& file : IncludesOfFolder(root, folder)) {
      EXPECT_EQ(file.find("simulate"), std::string::npos) << folder << " reaches " << file;
    }
  }
}

TEST(SimulateIsolation, TheSearchFindsAnIncludeWhereThereIsOne) {
  EXPECT_TRUE(ReachesSimulate(IncludesOfFolder(NEARPOINT_SOURCE_DIR, "tests/vision/simulate")));
}

}  // namespace
}  // namespace nearpoint::simulate
