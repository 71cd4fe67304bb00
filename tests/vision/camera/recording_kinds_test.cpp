// Recordings as people have them, each encoded here: every picture to the last one, at its time.
#include <gmock/gmock.h>

#include <algorithm>
#include <filesystem>
#include <opencv2/imgcodecs.hpp>

#include "tests/support/recording.h"
#include "tests/support/result_matchers.h"
#include "vision/camera/video_file_source.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

constexpr double kContainerMs = 1.01;  // Matroska and WebM count in whole milliseconds

struct Kind {
  std::string name;  // of the test
  std::string file;
  std::vector<std::string> how;
};
void PrintTo(const Kind& kind, std::ostream* out) { *out << kind.name; }

// Two pictures of reordering, as phones and meeting programs have it.
const std::vector<std::string> kH264B{
    "-c:v",      "libx264",      "-preset",
    "ultrafast", "-x264-params", "bframes=3:b-adapt=0:b-pyramid=normal:keyint=12",
    "-pix_fmt",  "yuv420p"};
const std::vector<std::string> kMjpeg{"-an", "-c:v", "mjpeg", "-q:v", "3", "-pix_fmt", "yuvj420p"};

std::vector<std::string> With(std::vector<std::string> first,
                              const std::vector<std::string>& more) {
  first.insert(first.end(), more.begin(), more.end());
  return first;
}
std::vector<std::string> Hevc(const std::string& pixels) {
  return {"-c:v",      "libx265",      "-preset",
          "ultrafast", "-x265-params", "bframes=3:b-adapt=0:log-level=none",
          "-pix_fmt",  pixels};
}

std::vector<Kind> Kinds() {
  return {
      {"H264WithBFramesAndSoundInMp4", "a.mp4", With(kH264B, {"-c:a", "aac"})},
      {"H264WithBFramesInMov", "a.mov", With(kH264B, {"-c:a", "pcm_s16le"})},
      {"H264WithBFramesInMatroska", "a.mkv", With(kH264B, {"-c:a", "aac"})},
      {"H264WithBFramesInAvi", "a.avi", With(kH264B, {"-an"})},
      {"H264WithBFramesInFragments", "a.mp4",
       With(kH264B, {"-movflags", "frag_keyframe+empty_moov"})},
      {"H264In422With10Bits", "a.mp4", {"-c:v", "libx264", "-pix_fmt", "yuv422p10le"}},
      {"H264In444", "a.mp4", {"-c:v", "libx264", "-pix_fmt", "yuv444p"}},
      {"HevcWithBFramesInMp4", "a.mp4", Hevc("yuv420p")},
      {"HevcWith10BitsInMov", "a.mov", With(Hevc("yuv420p10le"), {"-tag:v", "hvc1"})},
      {"Vp8InWebm", "a.webm", {"-c:v", "libvpx", "-deadline", "realtime", "-b:v", "1M"}},
      {"Vp9InWebm",
       "a.webm",
       {"-c:v", "libvpx-vp9", "-deadline", "realtime", "-cpu-used", "8", "-c:a", "libopus"}},
      {"MjpegInAvi", "a.avi", kMjpeg},
      {"MjpegIn422InMov", "a.mov", {"-c:v", "mjpeg", "-q:v", "3", "-pix_fmt", "yuvj422p"}},
      {"Mpeg4InAvi", "a.avi", {"-an", "-c:v", "mpeg4", "-q:v", "3"}},
  };
}

class RecordingKindsTest : public testing::TestWithParam<Kind> {
 protected:
  Recorder recorder_;
};

TEST_P(RecordingKindsTest, IsReadToItsLastFrame) {
  const std::string file = recorder_.Record(GetParam().file, GetParam().how);
  auto source = OpenVideoFile(file);
  ASSERT_THAT(source, IsOk());
  EXPECT_EQ((*source)->info().width, 128);
  EXPECT_EQ((*source)->info().height, 96);
  const ReadToEnd all = ReadAll(**source);
  EXPECT_FALSE(all.error) << all.error->message;
  ASSERT_EQ(all.frames.size(), static_cast<std::size_t>(kRecordedFrames));
  for (int i = 0; i < kRecordedFrames; ++i) {
    EXPECT_EQ(all.frames[i].index(), i);
    EXPECT_EQ(NumberOf(all.frames[i].bgr()), i);
    EXPECT_NEAR(ToMilliseconds(all.frames[i].time()), kRecordedFrameMs * i, kContainerMs);
  }
  EXPECT_EQ((*source)->info().unreadable, 0);
  EXPECT_FALSE((*source)->info().cut_off);
}

INSTANTIATE_TEST_SUITE_P(All, RecordingKindsTest, testing::ValuesIn(Kinds()),
                         [](const auto& each) { return each.param.name; });

TEST(RecordingTest, KeepsTheTimesOfAVariableRate) {
  Recorder recorder;
  // From the tenth picture on every second one is missing: 80 ms apart.
  const std::string file = recorder.Record(
      "phone.mp4",
      With(kH264B, {"-vf", "setpts='if(lt(N,10),N,2*N-10)'", "-vsync", "passthrough", "-an"}));
  auto source = OpenVideoFile(file);
  ASSERT_THAT(source, IsOk());
  const ReadToEnd all = ReadAll(**source);
  EXPECT_FALSE(all.error);
  ASSERT_EQ(all.frames.size(), static_cast<std::size_t>(kRecordedFrames));
  for (int i = 0; i < kRecordedFrames; ++i) {
    EXPECT_EQ(NumberOf(all.frames[i].bgr()), i);
    EXPECT_NEAR(ToMilliseconds(all.frames[i].time()), 40.0 * (i < 10 ? i : 2 * i - 10), 1e-3);
  }
}

// The corners of the picture as the ffmpeg program shows it, which turns it upright on its own.
TEST(RecordingTest, GivesUprightPictures) {
  Recorder recorder(128, 96, /*marked=*/true);
  const std::string stored = recorder.Record("stored.mp4", kH264B);
  for (const std::string degrees : {"0", "90", "180", "270"}) {
    const std::string file = recorder.Remux(stored, "turned" + degrees + ".mp4",
                                            {"-metadata:s:v:0", "rotate=" + degrees});
    const cv::Mat shown = cv::imread(recorder.Show(file, "shown.png"));
    ASSERT_EQ(shown.cols, degrees == "90" || degrees == "270" ? 96 : 128);
    auto source = OpenVideoFile(file);
    ASSERT_THAT(source, IsOk());
    EXPECT_EQ((*source)->info().width, shown.cols) << degrees;
    EXPECT_EQ((*source)->info().height, shown.rows) << degrees;
    const ReadToEnd all = ReadAll(**source);
    ASSERT_EQ(all.frames.size(), static_cast<std::size_t>(kRecordedFrames));
    const cv::Mat& first = all.frames.front().bgr();
    ASSERT_EQ(first.size(), shown.size());
    EXPECT_LT(cv::norm(first, shown, cv::NORM_INF), 12) << degrees;
  }
}

// Grey that is coded with the full range, and says so, is not taken for the narrow one.
TEST(RecordingTest, KeepsTheRangeOfBrightness) {
  Recorder recorder;
  const std::string file = recorder.Record(
      "full.mp4", With(kH264B, {"-vf", "scale=out_range=full", "-color_range", "pc"}));
  auto source = OpenVideoFile(file);
  ASSERT_THAT(source, IsOk());
  const ReadToEnd all = ReadAll(**source);
  ASSERT_EQ(all.frames.size(), static_cast<std::size_t>(kRecordedFrames));
  for (int i = 0; i < kRecordedFrames; ++i)
    EXPECT_NEAR(cv::mean(all.frames[i].bgr())[1], 20 + 10 * i, 3);
}

class CutRecordingTest : public testing::TestWithParam<std::string> {};

TEST_P(CutRecordingTest, GivesWhatIsWholeAndSaysThatItBreaksOff) {
  Recorder recorder(320, 240);
  // Noise, so that the pictures and not the tables are most of the file.
  const std::string file = recorder.Record(
      GetParam(), With(kH264B, {"-vf", "noise=alls=20:allf=t", "-movflags", "+faststart"}));
  std::filesystem::resize_file(file, std::filesystem::file_size(file) * 6 / 10);
  auto source = OpenVideoFile(file);
  ASSERT_THAT(source, IsOk());
  const ReadToEnd all = ReadAll(**source);
  EXPECT_FALSE(all.error);
  const auto read = static_cast<int>(all.frames.size());
  EXPECT_GE(read, 6);
  EXPECT_LT(read, kRecordedFrames);
  // Of the last group a picture may be missing that was stored after a later one.
  for (const Frame& frame : all.frames) {
    EXPECT_NEAR(ToMilliseconds(frame.time()), kRecordedFrameMs * NumberOf(frame.bgr()),
                kContainerMs);
  }
  EXPECT_TRUE((*source)->info().cut_off);
}

INSTANTIATE_TEST_SUITE_P(Containers, CutRecordingTest,
                         testing::Values("cut.mp4", "cut.mov", "cut.mkv", "cut.avi"),
                         [](const auto& each) {
                           std::string name = each.param;
                           std::replace(name.begin(), name.end(), '.', '_');
                           return name;
                         });

TEST(RecordingTest, LeavesOutADamagedStretchAndGoesOn) {
  Recorder recorder;
  recorder.Record("a.avi", kMjpeg);
  std::string bytes = recorder.folder().Read("a.avi");
  // Overwrites the sixth picture: a chunk is its name, its size in four bytes, and its data.
  std::size_t at = 0;
  for (int i = 0; i < 6; ++i) at = bytes.find("00dc", at + 4);
  ASSERT_NE(at, std::string::npos);
  const auto size =
      static_cast<unsigned char>(bytes[at + 4]) + 256 * static_cast<unsigned char>(bytes[at + 5]);
  std::fill_n(bytes.begin() + static_cast<std::ptrdiff_t>(at) + 8, size, '\0');
  auto source = OpenVideoFile(recorder.folder().Write("b.avi", bytes));
  ASSERT_THAT(source, IsOk());
  const ReadToEnd all = ReadAll(**source);
  EXPECT_FALSE(all.error);
  ASSERT_EQ(all.frames.size(), static_cast<std::size_t>(kRecordedFrames - 1));
  EXPECT_EQ(NumberOf(all.frames[5].bgr()), 6);
  EXPECT_NEAR(ToMilliseconds(all.frames[5].time()), 240, 1e-3);
  EXPECT_EQ((*source)->info().unreadable, 1);
  EXPECT_FALSE((*source)->info().cut_off);
}

TEST(RecordingTest, RefusesWhatHasNoPictures) {
  Recorder recorder;
  const std::string tone = recorder.Record("tone.m4a", {"-map", "1:a", "-vn", "-c:a", "aac"});
  EXPECT_THAT(OpenVideoFile(tone), FailsWith(ErrorCode::kUnreadable, HasSubstr("tone.m4a")));
  // The description of a recording that was not finished stands at its end, which is missing.
  const std::string file = recorder.Record("unfinished.mp4", kH264B);
  std::filesystem::resize_file(file, std::filesystem::file_size(file) / 2);
  EXPECT_THAT(OpenVideoFile(file), FailsWith(ErrorCode::kUnreadable, HasSubstr("cut off")));
}

TEST(RecordingTest, OpensNoOtherFile) {
  Recorder recorder;
  recorder.Record("other.mp4", kH264B);
  const TempFolder& folder = recorder.folder();
  EXPECT_THAT(OpenVideoFile(folder.Write("list.mp4", "ffconcat version 1.0\nfile other.mp4\n")),
              FailsWith(ErrorCode::kUnreadable, HasSubstr("list.mp4")));
  EXPECT_THAT(OpenVideoFile(folder.Write("list.m3u8",
                                         "#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\nother.mp4\n"
                                         "#EXT-X-ENDLIST\n")),
              FailsWith(ErrorCode::kUnreadable, HasSubstr("list.m3u8")));
}

}  // namespace
}  // namespace nearpoint
