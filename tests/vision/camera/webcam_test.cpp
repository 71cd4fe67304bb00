// The webcam source and OpenCV's Video4Linux under it, on a double of the kernel's side: see
// tests/support/camera_double. The double is linked into this program.
#include "vision/camera/webcam.h"

#include <gmock/gmock.h>

#include <chrono>
#include <cstdlib>
#include <thread>
#include <vector>

#include "tests/support/camera_double/play.h"
#include "tests/support/frames.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::EndsWith;
using testing::HasSubstr;

class WebcamTest : public testing::Test {
 protected:
  WebcamTest() {
    play_.modes = "YUYV 96x64@30";
    play_.log = folder_ / "log";
    play_.pictures = folder_.path().string();
  }
  ~WebcamTest() override {
    for (const auto& [name, value] : camera_double::EnvironmentOf({})) unsetenv(name.c_str());
  }

  void Set() const {
    for (const auto& [name, value] : camera_double::EnvironmentOf(play_)) {
      setenv(name.c_str(), value.c_str(), 1);
    }
  }
  [[nodiscard]] Result<std::unique_ptr<FrameSource>> Open(
      std::optional<ImageSize> wanted = std::nullopt) const {
    Set();
    return OpenWebcam(std::atoi(camera_double::kNumber), wanted);
  }
  [[nodiscard]] Result<std::unique_ptr<FrameSource>> OpenWith(const std::string& fault) {
    play_.fault = fault;
    return Open();
  }
  // The mode of the stream that was started last, as the driver had it.
  [[nodiscard]] std::string Streamed() const {
    std::string log = folder_.Read("log");
    if (!log.empty()) log.pop_back();
    return log.substr(log.rfind('\n') + 1);
  }
  // The sentence of a camera that could not be opened.
  void ExpectNone(const std::string& fault, ErrorCode code, const std::string& words) {
    EXPECT_THAT(OpenWith(fault), FailsWith(code, HasSubstr(words))) << fault;
  }

  TempFolder folder_;
  camera_double::Play play_;
};

TEST_F(WebcamTest, TakesTheLargestPictureThatComesThirtyTimesASecond) {
  play_.modes = "YUYV 640x480@30 1280x720@10 1920x1080@5 MJPG 640x480@30 1280x720@30 1920x1080@5";
  camera_double::WriteNumberedPictures(folder_, 2, 1280, 720);
  {
    const auto source = Open();
    ASSERT_THAT(source, IsOk());
    const SourceInfo& info = (*source)->info();
    EXPECT_EQ(info.width, 1280);
    EXPECT_EQ(info.height, 720);
    EXPECT_TRUE(info.live);
    EXPECT_EQ(info.description, "camera 42, 1280x720 pixels at 30 frames a second");
    EXPECT_EQ(Streamed(), "MJPG 1280x720@30");
    const auto frame = (*source)->Next();
    ASSERT_THAT(frame, IsOk());
    EXPECT_EQ((*frame)->bgr().size(), cv::Size(1280, 720));
  }
  play_.modes = "YUYV 640x480@30 1280x720@10 1920x1080@5";
  ASSERT_THAT(Open(), IsOk());
  EXPECT_EQ(Streamed(), "YUYV 640x480@30");
  play_.modes = "YUYV 640x480@15 1280x720@10";
  ASSERT_THAT(Open(), IsOk());
  EXPECT_EQ(Streamed(), "YUYV 640x480@15") << "nothing is fast enough: the fastest";
  play_.modes = "YUYV 1280x720@10 1280x720@60 1280x720@30";
  ASSERT_THAT(Open(), IsOk());
  EXPECT_EQ(Streamed(), "YUYV 1280x720@60");
}

TEST_F(WebcamTest, TakesTheSizeOfTheProfileAndNoOther) {
  play_.modes = "YUYV 1280x720@30 640x480@30";
  ASSERT_THAT(Open(ImageSize{640, 480}), IsOk());
  EXPECT_EQ(Streamed(), "YUYV 640x480@30");
  EXPECT_THAT(Open(ImageSize{800, 600}),
              FailsWith(ErrorCode::kMismatch, AllOf(HasSubstr("camera 42"), HasSubstr("800x600"))));
  // A driver that promises a size and gives another.
  play_.fault = "adjusts";
  EXPECT_THAT(Open(ImageSize{640, 480}),
              FailsWith(ErrorCode::kMismatch, AllOf(HasSubstr("640x480"), HasSubstr("1280x720"))));
}

TEST_F(WebcamTest, ARangeOfSizesHasTheUsualOnes) {
  play_.modes = "YUYV 48x32-4096x2160@30";
  ASSERT_THAT(Open(), IsOk());
  EXPECT_EQ(Streamed(), "YUYV 1920x1080@30");
  ASSERT_THAT(Open(ImageSize{1280, 720}), IsOk());
  EXPECT_EQ(Streamed(), "YUYV 1280x720@30");
  ASSERT_THAT(Open(ImageSize{800, 600}), IsOk());
  EXPECT_EQ(Streamed(), "YUYV 800x600@30");
  EXPECT_THAT(Open(ImageSize{801, 600}), FailsWith(ErrorCode::kMismatch, HasSubstr("801x600")));
}

TEST_F(WebcamTest, SaysWhyThereIsNoCamera) {
  EXPECT_THAT(OpenWebcam(987, std::nullopt),
              FailsWith(ErrorCode::kNotFound, AllOf(HasSubstr("camera 987"), EndsWith("in?"))));
  ExpectNone("forbidden", ErrorCode::kUnavailable, "group \"video\"");
  ExpectNone("no-driver", ErrorCode::kNotFound, "/dev/video42 gives no pictures");
  ExpectNone("metadata", ErrorCode::kNotFound, "try another number");
  for (const char* fault : {"busy-open", "busy-format", "busy-buffers", "busy-stream"}) {
    ExpectNone(fault, ErrorCode::kUnavailable, "in use by another program");
  }
  ExpectNone("silent:0", ErrorCode::kUnavailable, "no picture for two seconds");
  ExpectNone("unplugged:0", ErrorCode::kUnavailable, "unplugged");
  EXPECT_THAT(OpenWith(""), IsOk()) << "plugged in again";
}

TEST_F(WebcamTest, EndsWhereItIsUnpluggedAndStaysEnded) {
  auto source = OpenWith("unplugged:8");
  ASSERT_THAT(source, IsOk());
  const ReadToEnd all = ReadAll(**source);
  EXPECT_FALSE(all.frames.empty());
  ASSERT_TRUE(all.error);
  EXPECT_EQ(all.error->code, ErrorCode::kUnavailable);
  EXPECT_THAT(all.error->message, AllOf(HasSubstr("camera 42"), HasSubstr("unplugged")));
  EXPECT_THAT((*source)->Next(), FailsWith(ErrorCode::kUnavailable, HasSubstr("unplugged")));
  source->reset();
  EXPECT_THAT(Open(), FailsWith(ErrorCode::kNotFound, HasSubstr("is it plugged in?")));
  EXPECT_THAT(OpenWith(""), IsOk()) << "plugged in again";
}

TEST_F(WebcamTest, EndsWhereTheDriverFallsSilent) {
  const auto source = OpenWith("silent:8");
  ASSERT_THAT(source, IsOk());
  const ReadToEnd all = ReadAll(**source);
  EXPECT_FALSE(all.frames.empty());
  ASSERT_TRUE(all.error);
  EXPECT_THAT(all.error->message, HasSubstr("no picture for two seconds"));
}

TEST_F(WebcamTest, TimesAreOnTheMonotonicClockAndRise) {
  const Time before = std::chrono::steady_clock::now().time_since_epoch();
  const auto source = Open();
  ASSERT_THAT(source, IsOk());
  Time last = before;
  for (int i = 0; i < 10; ++i) {
    const auto frame = (*source)->Next();
    ASSERT_THAT(frame, IsOk());
    EXPECT_GT((*frame)->time(), last);
    last = (*frame)->time();
    EXPECT_LE(last, std::chrono::steady_clock::now().time_since_epoch());
  }
}

TEST_F(WebcamTest, ASlowReaderGetsTheNewestAndIsToldWhatItMissed) {
  play_.modes = "YUYV 96x64@100";
  const auto source = Open();
  ASSERT_THAT(source, IsOk());
  std::int64_t last = -1;
  std::int64_t skipped = 0;
  for (int i = 0; i < 6; ++i) {
    const auto frame = (*source)->Next();
    ASSERT_THAT(frame, IsOk());
    EXPECT_EQ((*frame)->index(), last + 1 + (*frame)->skipped_before());
    last = (*frame)->index();
    skipped += (*frame)->skipped_before();
    // The reader's work; ten pictures and more come meanwhile.
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  EXPECT_GT(skipped, 0);
}

// Of the pictures 0 to 11 in a circle, each third is spoilt.
class DamagedPicturesTest : public WebcamTest, public testing::WithParamInterface<std::string> {};

TEST_P(DamagedPicturesTest, AreACountedGap) {
  play_.modes = "MJPG 96x64@60";
  camera_double::WriteNumberedPictures(folder_, 12, 96, 64);
  const auto source = OpenWith(GetParam() + ":3");
  ASSERT_THAT(source, IsOk());
  std::int64_t last = -1;
  std::int64_t skipped = 0;
  for (int i = 0; i < 20; ++i) {
    const auto frame = (*source)->Next();
    ASSERT_THAT(frame, IsOk());
    const cv::Mat& bgr = (*frame)->bgr();
    const int number = NumberOf(bgr);
    EXPECT_NE(number % 3, 2) << "a spoilt picture came through";
    EXPECT_LT(cv::norm(bgr, NumberedPicture(number), cv::NORM_INF), 4) << "picture " << number;
    EXPECT_EQ((*frame)->index(), last + 1 + (*frame)->skipped_before());
    last = (*frame)->index();
    skipped += (*frame)->skipped_before();
  }
  EXPECT_GE(skipped, 8);
}

TEST_P(DamagedPicturesTest, EndTheSourceWhereNoOtherComes) {
  play_.modes = "MJPG 96x64@60";
  camera_double::WriteNumberedPictures(folder_, 1, 96, 64);
  EXPECT_THAT(OpenWith(GetParam() + ":1"),
              FailsWith(ErrorCode::kUnavailable, HasSubstr("damaged pictures only")));
}

INSTANTIATE_TEST_SUITE_P(Ways, DamagedPicturesTest, testing::Values("cut", "empty"),
                         [](const auto& param) { return param.param; });

TEST_F(WebcamTest, TheDriversStampsComeThrough) {
  play_.delay_ms = "40";
  Set();
  const auto stamps = TimeWebcam(std::atoi(camera_double::kNumber), std::nullopt, 12);
  ASSERT_THAT(stamps, IsOk());
  ASSERT_EQ(stamps->size(), 12u);
  for (std::size_t i = 0; i < stamps->size(); ++i) {
    // Stamps of the driver are in whole microseconds.
    EXPECT_GE(ToMilliseconds((*stamps)[i].arrived - (*stamps)[i].taken), 40 - 0.001);
    if (i == 0) continue;
    const double frames = 30 * ToSeconds((*stamps)[i].taken - (*stamps)[i - 1].taken);
    EXPECT_GE(frames, 0.999);
    EXPECT_NEAR(frames, std::round(frames), 1e-3) << "not a multiple of a thirtieth of a second";
  }
}

}  // namespace
}  // namespace nearpoint
