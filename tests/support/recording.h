// Recordings as phones and meeting programs make them, encoded by the ffmpeg program
// (NEARPOINT_FFMPEG) from numbered pictures (frames.h).
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <string>
#include <vector>

#include "tests/support/frames.h"
#include "tests/support/run_program.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {

inline constexpr int kRecordedFrames = 20;
inline constexpr double kRecordedFrameMs = 40;

class Recorder {
 public:
  // 20 pictures, 40 ms apart, of an even width and height; the upper left one white where marked,
  // so that one can see how they lie.
  explicit Recorder(int width = 128, int height = 96, bool marked = false)
      : size_(std::to_string(width) + "x" + std::to_string(height)) {
    std::ofstream raw(folder_ / "raw", std::ios::binary);
    for (int i = 0; i < kRecordedFrames; ++i) {
      cv::Mat picture = NumberedPicture(i, width, height);
      if (marked) picture(cv::Rect(0, 0, width / 4, height / 4)).setTo(cv::Scalar::all(255));
      raw.write(reinterpret_cast<const char*>(picture.data),
                static_cast<std::streamsize>(picture.total() * picture.elemSize()));
    }
  }

  // The path of the recording. how: what stands between the input and the output; a second input is
  // a tone.
  std::string Record(const std::string& name, const std::vector<std::string>& how) {
    std::vector<std::string> arguments{"-v",
                                       "error",
                                       "-y",
                                       "-f",
                                       "rawvideo",
                                       "-pix_fmt",
                                       "bgr24",
                                       "-s",
                                       size_,
                                       "-r",
                                       "25",
                                       "-i",
                                       folder_ / "raw",
                                       "-f",
                                       "lavfi",
                                       "-i",
                                       "sine=duration=0.8"};
    arguments.insert(arguments.end(), how.begin(), how.end());
    arguments.push_back(folder_ / name);
    Run(arguments);
    return folder_ / name;
  }

  // The same pictures and sound under another name, with what is said of them changed.
  std::string Remux(const std::string& file, const std::string& name,
                    const std::vector<std::string>& how) {
    std::vector<std::string> arguments{"-v", "error", "-y", "-i", file, "-c", "copy"};
    arguments.insert(arguments.end(), how.begin(), how.end());
    arguments.push_back(folder_ / name);
    Run(arguments);
    return folder_ / name;
  }

  // The first picture as the program shows it; the path of the picture.
  std::string Show(const std::string& file, const std::string& name) {
    Run({"-v", "error", "-y", "-i", file, "-frames:v", "1", folder_ / name});
    return folder_ / name;
  }

  [[nodiscard]] const TempFolder& folder() const { return folder_; }

 private:
  static void Run(const std::vector<std::string>& arguments) {
    const ProgramRun run = RunProgram(NEARPOINT_FFMPEG, arguments);
    EXPECT_EQ(run.status, 0) << run.err;
  }

  TempFolder folder_;
  std::string size_;
};

}  // namespace nearpoint
