#include <gmock/gmock.h>

#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

class ReviewCommandTest : public testing::Test {
 protected:
  void SetUp() override {
    json document = {{"schema", "nearpoint/session/1"}, {"trials", json::array()}};
    for (const double mm : {95.0, 99.0, 97.0, 150.0}) {
      document["trials"].push_back({{"break_mm", mm},
                                    {"break_sd_mm", 1},
                                    {"recovery_mm", nullptr},
                                    {"recovery_sd_mm", nullptr},
                                    {"censored", nullptr},
                                    {"approach_speed_mm_s", nullptr},
                                    {"set_aside", nullptr}});
    }
    file_ = work_.Write("s.json", document.dump());
    log_ = work_ / "review.jsonl";
  }
  ProgramRun Review(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), {"review", file_, "--log", log_});
    return Nearpoint(arguments);
  }
  TempFolder work_;
  std::string file_, log_;
};

TEST_F(ReviewCommandTest, TheOriginalStaysBesideTheReviewed) {
  const std::string before = work_.Read("s.json");
  const ProgramRun run =
      Review({"--by", "Dr. Ade", "--set-aside", "4", "--why", "mother spoke to the child"});
  ASSERT_EQ(run.status, 0) << run.err;
  const json aside = json::parse(run.out);
  EXPECT_EQ(aside["as_measured"]["trials_used"], 4);
  EXPECT_EQ(aside["as_reviewed"]["trials_used"], 3);
  EXPECT_NEAR(aside["as_reviewed"]["break_mm"]["value"].get<double>(), 97, 0.5);
  EXPECT_EQ(aside["as_reviewed"]["set_aside"][0]["reason"], "mother spoke to the child");
  EXPECT_EQ(aside["accepted"], false);
  ASSERT_EQ(Review({"--by", "Dr. Ade", "--accept"}).status, 0);
  const json now = json::parse(Review({}).out);
  EXPECT_EQ(now["accepted"], true);
  ASSERT_EQ(now["entries"].size(), 2u);
  EXPECT_EQ(now["entries"][0]["by"], "Dr. Ade");
  EXPECT_EQ(work_.Read("s.json"), before);
}

TEST_F(ReviewCommandTest, SeesThatTheLogOrTheSessionWasEdited) {
  ASSERT_EQ(Review({"--by", "Dr. Ade", "--note", "good light"}).status, 0);
  std::string text = work_.Read("review.jsonl");
  text.replace(text.find("good"), 4, "poor");
  work_.Write("review.jsonl", text);
  EXPECT_THAT(Review({}), Refuses(AllOf(HasSubstr("review.jsonl, line 1"), HasSubstr("chain"))));
  text.replace(text.find("poor"), 4, "good");
  work_.Write("review.jsonl", text);
  EXPECT_EQ(Review({}).status, 0);
  work_.Write("s.json", work_.Read("s.json") + " ");
  EXPECT_THAT(Review({}), Refuses(HasSubstr("changed after it was reviewed")));
}

TEST_F(ReviewCommandTest, NamesWhatIsWrong) {
  EXPECT_THAT(Review({"--by", "Dr. Ade", "--set-aside", "4"}), Refuses(HasSubstr("reason")));
  EXPECT_THAT(Review({"--by", "Dr. Ade", "--set-aside", "9", "--why", "x"}),
              Refuses(HasSubstr("no trial 9")));
  EXPECT_FALSE(std::filesystem::exists(log_));  // nothing of what was refused is kept
  EXPECT_EQ(Review({"--set-aside", "4", "--why", "x"}).status, 2);
  EXPECT_EQ(Review({"--by", "a", "--accept", "--note", "x"}).status, 2);
}

}  // namespace
}  // namespace nearpoint
