// What tests of the program share: running it, the shape of its complaints, and a small recording.
#pragma once

#include <gmock/gmock.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <opencv2/imgcodecs.hpp>
#include <string>
#include <vector>

#include "tests/support/frames.h"
#include "tests/support/run_program.h"

namespace nearpoint {

[[nodiscard]] inline ProgramRun Nearpoint(const std::vector<std::string>& arguments,
                                          const RunOptions& options = {}) {
  return RunProgram(NEARPOINT_PROGRAM, arguments, options);
}

// Status 1, nothing on standard output, and one line on standard error that has all of the words.
MATCHER_P(Refuses, words, "refuses with one sentence") {
  *result_listener << "status " << arg.status << ", output \"" << arg.out.substr(0, 200)
                   << "\", error \"" << arg.err << "\"";
  const auto lines = std::count(arg.err.begin(), arg.err.end(), '\n');
  return arg.status == 1 && arg.out.empty() && lines == 1 &&
         testing::ExplainMatchResult(words, arg.err, result_listener);
}

[[nodiscard]] inline nlohmann::json GoodProfile(int width = 320, int height = 240) {
  return {{"schema", "nearpoint/profile/1"},
          {"camera",
           {{"width", width},
            {"height", height},
            {"fx", 0.8 * width},
            {"fy", 0.8 * width},
            {"cx", width / 2.0},
            {"cy", height / 2.0},
            {"distortion", {0, 0, 0, 0, 0}},
            {"focal_rel_sd", 0.003}}},
          {"face",
           {{"outer_corners_mm", 88.0},
            {"outer_corners_mm_sd", 0.8},
            {"inner_corners_mm", 33.0},
            {"inner_corners_mm_sd", 0.5},
            {"iris_mm", 11.7},
            {"iris_mm_sd", 0.15},
            {"distance_pd_mm", nullptr},
            {"outer_corner_depth_mm", nullptr},
            {"inner_corner_depth_mm", nullptr}}},
          {"target_mm", {0, 20, 0}},
          {"target_sd_mm", 1},
          {"lag_ms", 300},
          {"lag_sd_ms", 60}};
}

// A folder of plain grey pictures: readable, and without a face.
inline std::string GreyRecording(const TempFolder& folder, int frames, int width = 320,
                                 int height = 240) {
  std::string list;
  for (int i = 0; i < frames; ++i) {
    const std::string name = std::to_string(i) + ".png";
    cv::imwrite(folder / name, NumberedPicture(i, width, height));
    list += nlohmann::json{{"file", name}, {"t_ms", 100.0 * i}}.dump() + "\n";
  }
  folder.Write("frames.jsonl", list);
  return folder.path().string();
}

[[nodiscard]] inline std::vector<nlohmann::json> JsonLines(const std::string& text) {
  std::vector<nlohmann::json> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(nlohmann::json::parse(line));
  return lines;
}

}  // namespace nearpoint
