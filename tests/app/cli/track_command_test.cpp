#include <gmock/gmock.h>

#include <csignal>
#include <filesystem>
#include <opencv2/videoio.hpp>
#include <set>

#include "tests/support/cli.h"
#include "tests/support/recording.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

class TrackCommandTest : public testing::Test {
 protected:
  TrackCommandTest()
      : source_(GreyRecording(recording_, 4)),
        profile_(work_.Write("p.json", GoodProfile().dump())) {}

  ProgramRun Track(const RunOptions& options = {}) {
    std::vector<std::string> arguments{"track", "--source", source_, "--profile", profile_};
    if (!out_.empty()) arguments.insert(arguments.end(), {"--out", out_});
    return Nearpoint(arguments, options);
  }

  TempFolder recording_;
  TempFolder work_;
  std::string source_;
  std::string profile_;
  std::string out_;
};

TEST_F(TrackCommandTest, GivesOneObjectForEachFrame) {
  const ProgramRun run = Track();
  ASSERT_EQ(run.status, 0) << run.err;
  const auto lines = JsonLines(run.out);
  ASSERT_EQ(lines.size(), 4u);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    EXPECT_EQ(lines[i]["frame"], i);
    EXPECT_EQ(lines[i]["t_ms"], 100.0 * static_cast<double>(i));
    // Nobody is in these pictures, and nothing is made up.
    EXPECT_EQ(lines[i]["mode"], "lost");
    EXPECT_TRUE(lines[i]["why"].is_string());
    EXPECT_TRUE(lines[i]["distance_mm"].is_null());
  }
  EXPECT_THAT(run.err, HasSubstr("population values"));
}

TEST_F(TrackCommandTest, WritesTheSameLinesToAFile) {
  const std::string printed = Track().out;
  out_ = work_ / "track.jsonl";
  const ProgramRun run = Track();
  EXPECT_EQ(run.status, 0);
  EXPECT_EQ(run.out, "");
  EXPECT_EQ(work_.Read("track.jsonl"), printed);
  EXPECT_EQ(work_.Count(), 2);
}

TEST_F(TrackCommandTest, CountsMissingPicturesAndGoesOn) {
  std::filesystem::remove(recording_ / "1.png");
  recording_.Write("2.png", "damaged");
  const ProgramRun run = Track();
  EXPECT_EQ(run.status, 0);
  const auto lines = JsonLines(run.out);
  ASSERT_EQ(lines.size(), 2u);
  EXPECT_EQ(lines[1]["frame"], 3);
  EXPECT_THAT(run.err, HasSubstr("2 of 4 frames are missing"));
}

TEST_F(TrackCommandTest, NamesTheProfileAndItsField) {
  profile_ = work_ / "none.json";
  EXPECT_THAT(Track(), Refuses(HasSubstr("none.json")));
  auto json = GoodProfile();
  json["camera"].erase("fx");
  profile_ = work_.Write("p.json", json.dump());
  EXPECT_THAT(Track(),
              Refuses(AllOf(HasSubstr("p.json"), HasSubstr("camera.fx"), HasSubstr("missing"))));
  json = GoodProfile();
  json["face"]["iris_mm"] = 1.17;
  profile_ = work_.Write("p.json", json.dump());
  EXPECT_THAT(Track(), Refuses(AllOf(HasSubstr("face.iris_mm"), HasSubstr("millimetres"))));
  profile_ = work_.Write("p.json", "not JSON");
  EXPECT_THAT(Track(), Refuses(HasSubstr("p.json")));
}

TEST_F(TrackCommandTest, NamesBothSizesWhereTheProfileIsOfAnotherCamera) {
  profile_ = work_.Write("p.json", GoodProfile(1280, 720).dump());
  EXPECT_THAT(Track(),
              Refuses(AllOf(HasSubstr("p.json"), HasSubstr("320x240"), HasSubstr("1280x720"))));
}

TEST_F(TrackCommandTest, AProfileOfSomebodyElseIsRefusedAndAnOldOneIsSaid) {
  auto json = GoodProfile();
  json["origin"]["face"] = {{"date", "2020-01-01"},
                            {"device", nullptr},
                            {"person", "Ann"},
                            {"software", "0.1.0"},
                            {"method", "card on the forehead"}};
  profile_ = work_.Write("p.json", json.dump());
  const auto run = [&](const std::string& person) {
    return Nearpoint({"track", "--source", source_, "--profile", profile_, "--person", person});
  };
  EXPECT_THAT(run("Ben"), Refuses(AllOf(HasSubstr("p.json"), HasSubstr("Ann"), HasSubstr("Ben"))));
  const ProgramRun own = run("Ann");
  EXPECT_EQ(own.status, 0);
  EXPECT_THAT(own.err, AllOf(HasSubstr("2020-01-01"), HasSubstr("nearpoint calibrate face")));
}

TEST_F(TrackCommandTest, NamesTheSource) {
  source_ = "987";
  EXPECT_THAT(Track(), Refuses(HasSubstr("camera 987")));
  source_ = work_ / "none.avi";
  EXPECT_THAT(Track(), Refuses(HasSubstr("none.avi")));
  source_ = work_.Write("empty.avi", "");
  EXPECT_THAT(Track(), Refuses(AllOf(HasSubstr("empty.avi"), HasSubstr("empty"))));
  source_ = work_.path().string();
  EXPECT_THAT(Track(), Refuses(HasSubstr("frames.jsonl")));
}

TEST_F(TrackCommandTest, AVideoThatIsCutOffGivesWhatItHasOrIsRefused) {
  const std::string clip = work_ / "clip.avi";
  constexpr int kFrames = 12;
  {
    cv::VideoWriter writer(clip, cv::CAP_OPENCV_MJPEG, cv::VideoWriter::fourcc('M', 'J', 'P', 'G'),
                           20, {320, 240});
    for (int i = 0; i < kFrames; ++i) writer.write(NumberedPicture(i, 320, 240));
  }
  const auto size = std::filesystem::file_size(clip);
  source_ = clip;
  std::filesystem::resize_file(clip, size / 2);
  const ProgramRun half = Track();
  EXPECT_EQ(half.status, 0) << half.err;
  const auto lines = JsonLines(half.out).size();
  EXPECT_GT(lines, 2u);
  EXPECT_LT(lines, static_cast<std::size_t>(kFrames));
  EXPECT_THAT(half.err, HasSubstr(std::to_string(kFrames - lines) + " of 12 frames are missing"));
  EXPECT_THAT(half.err, HasSubstr("The recording breaks off after"));
  // Its header promises twelve frames, and of the first the last bytes are missing: it can be
  // opened.
  const std::string bytes = work_.Read("clip.avi");
  const auto second = bytes.find("00dc", bytes.find("00dc") + 4);
  ASSERT_NE(second, std::string::npos);
  std::filesystem::resize_file(clip, second - 20);
  out_ = work_ / "track.jsonl";
  EXPECT_THAT(Track(), Refuses(AllOf(HasSubstr("clip.avi"), HasSubstr("not one frame"))));
  EXPECT_FALSE(std::filesystem::exists(out_));
}

// As a phone records: pictures stored in another order than they are shown, and a sound track.
TEST_F(TrackCommandTest, GivesEveryFrameOfAPhonesRecordingAtItsTime) {
  Recorder recorder(320, 240);
  source_ = recorder.Record(
      "phone.mp4", {"-c:v", "libx264", "-preset", "ultrafast", "-x264-params",
                    "bframes=3:b-adapt=0:b-pyramid=normal", "-pix_fmt", "yuv420p", "-c:a", "aac"});
  const ProgramRun run = Track();
  ASSERT_EQ(run.status, 0) << run.err;
  const auto lines = JsonLines(run.out);
  ASSERT_EQ(lines.size(), static_cast<std::size_t>(kRecordedFrames));
  for (std::size_t i = 0; i < lines.size(); ++i) {
    EXPECT_EQ(lines[i]["frame"], i);
    EXPECT_NEAR(lines[i]["t_ms"].get<double>(), kRecordedFrameMs * static_cast<double>(i), 1e-3);
  }
  EXPECT_THAT(run.err, Not(HasSubstr("missing")));
  EXPECT_THAT(run.err, Not(HasSubstr("breaks off")));
}

TEST_F(TrackCommandTest, LeavesNoFileWhereTheSourceFailsInTheMiddle) {
  cv::imwrite(recording_ / "2.png", NumberedPicture(2, 160, 120));
  out_ = work_ / "track.jsonl";
  EXPECT_THAT(Track(), Refuses(AllOf(HasSubstr("2.png"), HasSubstr("160x120"))));
  EXPECT_EQ(work_.Count(), 1);
  work_.Write("track.jsonl", "from before");
  EXPECT_THAT(Track(), Refuses(HasSubstr("2.png")));
  EXPECT_EQ(work_.Read("track.jsonl"), "from before");
}

TEST_F(TrackCommandTest, SaysThatItCannotWrite) {
  out_ = work_ / "none/track.jsonl";
  EXPECT_THAT(Track(),
              Refuses(AllOf(HasSubstr("none/track.jsonl"), HasSubstr("folder does not exist"))));
  out_ = "/dev/full";
  EXPECT_THAT(Track(), Refuses(HasSubstr("disk is full")));
  out_.clear();
  RunOptions full;
  full.standard_output = "/dev/full";
  EXPECT_THAT(Track(full), Refuses(HasSubstr("Standard output")));
}

TEST_F(TrackCommandTest, LeavesNothingHalfWrittenOnAFullDisk) {
  out_ = work_ / "track.jsonl";
  RunOptions full;
  full.largest_file = 300;  // less than two lines
  EXPECT_THAT(Track(full), Refuses(HasSubstr("track.jsonl")));
  EXPECT_EQ(work_.Count(), 1);
}

TEST_F(TrackCommandTest, RefusesAnotherModel) {
  TempFolder models;
  RunOptions options;
  options.environment = {{"NEARPOINT_MODEL_DIR", models.path().string()}};
  EXPECT_THAT(Track(options), Refuses(HasSubstr("NEARPOINT_MODEL_DIR")));
  models.Write("shape_predictor_68_face_landmarks.dat", "abc");
  EXPECT_THAT(Track(options),
              Refuses(AllOf(HasSubstr("ba7816bf8f01cfea"), HasSubstr("fbdc2cb80eb9aa7a"))));
}

}  // namespace
}  // namespace nearpoint
