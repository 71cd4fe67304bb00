#include "vision/camera/video_file_source.h"

#include <gmock/gmock.h>

#include <filesystem>
#include <opencv2/videoio.hpp>

#include "tests/support/frames.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

constexpr int kFrames = 20;
constexpr double kRate = 20;  // 50 ms a frame

class VideoFileTest : public testing::Test {
 protected:
  // An AVI with MJPEG, as webcam programs write it.
  std::string Clip() {
    std::string file = folder_ / "clip.avi";
    cv::VideoWriter writer(file, cv::CAP_OPENCV_MJPEG, cv::VideoWriter::fourcc('M', 'J', 'P', 'G'),
                           kRate, {96, 64});
    for (int i = 0; i < kFrames; ++i) writer.write(NumberedPicture(i));
    return file;
  }

  TempFolder folder_;
};

TEST_F(VideoFileTest, GivesEveryFrameWithTheTimeOfTheContainer) {
  auto source = OpenVideoFile(Clip());
  ASSERT_THAT(source, IsOk());
  EXPECT_EQ((*source)->info().width, 96);
  EXPECT_EQ((*source)->info().height, 64);
  EXPECT_FALSE((*source)->info().live);
  const ReadToEnd all = ReadAll(**source);
  EXPECT_FALSE(all.error);
  ASSERT_EQ(all.frames.size(), static_cast<std::size_t>(kFrames));
  for (int i = 0; i < kFrames; ++i) {
    EXPECT_EQ(all.frames[i].index(), i);
    EXPECT_EQ(NumberOf(all.frames[i].bgr()), i);
    EXPECT_NEAR(ToMilliseconds(all.frames[i].time()), 50.0 * i, 1e-3);
  }
  EXPECT_EQ((*source)->info().unreadable, 0);
  const auto after = (*source)->Next();
  ASSERT_THAT(after, IsOk());
  EXPECT_FALSE(after->has_value());
}

class DamagedVideoTest : public VideoFileTest {};

TEST_F(DamagedVideoTest, EndsInOrderWhereTheFileIsCutAndCountsTheRest) {
  const std::string file = Clip();
  std::filesystem::resize_file(file, std::filesystem::file_size(file) / 2);
  auto source = OpenVideoFile(file);
  ASSERT_THAT(source, IsOk());
  const ReadToEnd all = ReadAll(**source);
  EXPECT_FALSE(all.error);
  const auto read = static_cast<int>(all.frames.size());
  EXPECT_GT(read, 3);
  EXPECT_LT(read, kFrames);
  for (int i = 0; i < read; ++i)
    EXPECT_EQ(NumberOf(all.frames[i].bgr()), i) << "a half picture was given";
  EXPECT_EQ((*source)->info().unreadable, kFrames - read);
  EXPECT_TRUE((*source)->info().cut_off);
}

TEST_F(DamagedVideoTest, RefusesWhatIsNotAVideo) {
  EXPECT_THAT(OpenVideoFile(folder_ / "absent.avi"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("absent.avi")));
  EXPECT_THAT(OpenVideoFile(folder_.Write("empty.avi", "")),
              FailsWith(ErrorCode::kUnreadable, HasSubstr("empty")));
  EXPECT_THAT(OpenVideoFile(folder_.Write("text.avi", std::string(5000, 'x'))),
              FailsWith(ErrorCode::kUnreadable, HasSubstr("text.avi")));
  EXPECT_THAT(OpenVideoFile(folder_.Write("note.txt", std::string(5000, 'x'))),
              FailsWith(ErrorCode::kUnreadable, HasSubstr("note.txt")));
  const std::string file = Clip();
  std::filesystem::resize_file(file, 400);  // not even the header is whole
  EXPECT_THAT(OpenVideoFile(file), FailsWith(ErrorCode::kUnreadable, HasSubstr("clip.avi")));
}

}  // namespace
}  // namespace nearpoint
