#include <gmock/gmock.h>

#include <algorithm>
#include <filesystem>

#include "tests/support/cli.h"
#include "tests/support/recording.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

constexpr const char* kEvents =
    "{\"t_ms\": 0, \"event\": \"trial_start\"}\n{\"t_ms\": 100, \"event\": \"double\"}\n"
    "{\"t_ms\": 200, \"event\": \"single\"}\n{\"t_ms\": 300, \"event\": \"trial_end\"}\n";

class MeasureCommandTest : public testing::Test {
 protected:
  MeasureCommandTest()
      : source_(GreyRecording(recording_, 4)),
        profile_(work_.Write("p.json", GoodProfile().dump())),
        events_(work_.Write("e.jsonl", kEvents)),
        out_(work_ / "session.json") {}

  ProgramRun Measure(const std::vector<std::string>& more = {}, const RunOptions& options = {}) {
    std::vector<std::string> arguments{"measure",  "--source", source_, "--profile", profile_,
                                       "--events", events_,    "--out", out_};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return Nearpoint(arguments, options);
  }
  nlohmann::json Session() { return nlohmann::json::parse(work_.Read("session.json")); }

  TempFolder recording_;
  TempFolder work_;
  std::string source_;
  std::string profile_;
  std::string events_;
  std::string out_;
};

TEST_F(MeasureCommandTest, SetsAsideWhatItCouldNotSeeAndAnswersNothing) {
  const ProgramRun run = Measure();
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_EQ(run.out, "");
  const auto session = Session();
  EXPECT_EQ(session["schema"], "nearpoint/session/1");
  ASSERT_EQ(session["trials"].size(), 1u);
  EXPECT_TRUE(session["trials"][0]["set_aside"].is_string());
  EXPECT_TRUE(session["trials"][0]["break_mm"].is_null());
  EXPECT_TRUE(session["estimate"]["break_mm"].is_null());
  EXPECT_EQ(session["estimate"]["answer"], "cannot tell yet");
  EXPECT_FALSE(session["cautions"].empty());
  EXPECT_EQ(session["frames"]["without_distance"], 4);
  EXPECT_EQ(session["trials"][0]["agreement"], "cannot tell");
  EXPECT_EQ(session["agreement"]["flagged"], false);
  EXPECT_THAT(run.err, HasSubstr("In no trial could the report be compared with the eyes."));
}

TEST_F(MeasureCommandTest, WritesWhatWasMeasuredUntilARecordingBreaksOff) {
  Recorder recorder(320, 240);
  source_ = recorder.Record(
      "meeting.mp4", {"-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-vf",
                      "noise=alls=20:allf=t", "-c:a", "aac", "-movflags", "+faststart"});
  std::filesystem::resize_file(source_, std::filesystem::file_size(source_) * 6 / 10);
  const ProgramRun run = Measure();
  ASSERT_EQ(run.status, 0) << run.err;
  const std::string sentence = "The recording breaks off after 0.";
  const auto at = run.err.find(sentence);
  ASSERT_NE(at, std::string::npos) << run.err;
  EXPECT_EQ(run.err.find(sentence, at + 1), std::string::npos) << "said twice";
  const auto session = Session();
  ASSERT_EQ(session["trials"].size(), 1u);
  const auto& cautions = session["cautions"];
  EXPECT_TRUE(std::any_of(cautions.begin(), cautions.end(), [&](const auto& caution) {
    return caution.template get<std::string>().starts_with(sentence);
  })) << cautions;
}

TEST_F(MeasureCommandTest, CountsTheCutOffFromThePlane) {
  ASSERT_EQ(Measure().status, 0);
  EXPECT_EQ(Session()["estimate"]["reference_plane"], "corneal plane");
  EXPECT_EQ(Session()["estimate"]["cut_off_mm"],
            63.5);  // 50 from the spectacle plane, 13.5 before the cornea
  ASSERT_EQ(Measure({"--plane", "spectacle"}).status, 0);
  EXPECT_EQ(Session()["estimate"]["reference_plane"], "spectacle plane");
  EXPECT_EQ(Session()["estimate"]["cut_off_mm"], 50.0);
  EXPECT_THAT(Session()["estimate"]["cut_off_from"].get<std::string>(), HasSubstr("Scheiman"));
  ASSERT_EQ(Measure({"--norm", "citt"}).status, 0);
  EXPECT_EQ(Session()["estimate"]["cut_off_mm"], 73.5);  // 60 from the spectacle plane
  ASSERT_EQ(Measure({"--plane", "spectacle", "--cut-off-mm", "60"}).status, 0);
  EXPECT_EQ(Session()["estimate"]["cut_off_mm"], 60.0);
}

TEST_F(MeasureCommandTest, NamesTheEventsFileAndTheLine) {
  events_ = work_ / "none.jsonl";
  EXPECT_THAT(Measure(), Refuses(HasSubstr("none.jsonl")));
  events_ = work_.Write("e.jsonl", "");
  EXPECT_THAT(Measure(), Refuses(AllOf(HasSubstr("e.jsonl"), HasSubstr("no event"))));
  events_ =
      work_.Write("e.jsonl", std::string(kEvents) + "{\"t_ms\": 400, \"event\": \"twice\"}\n");
  EXPECT_THAT(Measure(), Refuses(AllOf(HasSubstr("e.jsonl, line 5"), HasSubstr("twice"))));
  // Events of another recording: the first trial starts well after the end of this one.
  events_ = work_.Write("e.jsonl", "{\"t_ms\": 99000, \"event\": \"trial_start\"}\n");
  EXPECT_THAT(Measure(), Refuses(AllOf(HasSubstr("e.jsonl"), HasSubstr("after the last frame"))));
  EXPECT_EQ(work_.Count(), 2) << "something was left behind";
}

TEST_F(MeasureCommandTest, SaysThatItCannotWriteBeforeItWorks) {
  out_ = work_ / "none/session.json";
  EXPECT_THAT(Measure(), Refuses(HasSubstr("none/session.json")));
  out_ = "/dev/full";
  EXPECT_THAT(Measure(), Refuses(HasSubstr("disk is full")));
}

TEST_F(MeasureCommandTest, LeavesNothingHalfWrittenOnAFullDisk) {
  RunOptions full;
  full.largest_file = 300;
  EXPECT_THAT(Measure({}, full), Refuses(HasSubstr("session.json")));
  EXPECT_EQ(work_.Count(), 2);
  work_.Write("session.json", "from before");
  EXPECT_THAT(Measure({}, full), Refuses(HasSubstr("session.json")));
  EXPECT_EQ(work_.Read("session.json"), "from before");
}

TEST_F(MeasureCommandTest, RefusesEventsThatAreNotOfThisRecording) {
  const auto refuses = [&](const std::string& events, const std::string& words) {
    events_ = work_.Write("e.jsonl", events);
    EXPECT_THAT(Measure(), Refuses(AllOf(HasSubstr("e.jsonl"), HasSubstr(words)))) << events;
  };
  refuses("{\"t_ms\": 100, \"event\": \"trial_start\"}\n{\"t_ms\": 50, \"event\": \"double\"}\n",
          "line 2");
  refuses("{\"t_ms\": -500, \"event\": \"trial_start\"}\n", "e.jsonl");
  refuses("{\"t_ms\": 0, \"event\": \"double\"}\n{\"t_ms\": 100, \"event\": \"trial_start\"}\n",
          "e.jsonl");
}

}  // namespace
}  // namespace nearpoint
