#include <gmock/gmock.h>

#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

constexpr const char* kCsv =
    "break_mm,recovery_mm,censored\n95,120,\n99,126,\n97,125,\n101,130,\n98,122,\n";

class EstimateCommandTest : public testing::Test {
 protected:
  TempFolder work_;
};

TEST_F(EstimateCommandTest, PrintsTheEstimateOfARuler) {
  const ProgramRun run = Nearpoint({"estimate", work_.Write("t.csv", kCsv)});
  ASSERT_EQ(run.status, 0) << run.err;
  const json estimate = json::parse(run.out);
  EXPECT_EQ(estimate["trials_used"], 5);
  EXPECT_NEAR(estimate["break_mm"]["value"].get<double>(), 98, 1);  // the mean of the five
  EXPECT_LT(estimate["break_mm"]["low"], 98);
  EXPECT_GT(estimate["break_mm"]["high"], 98);
  EXPECT_EQ(estimate["break_mm"]["level"], 0.95);
  EXPECT_EQ(estimate["answer"], "beyond the cut-off");
  EXPECT_EQ(estimate["reference_plane"], "corneal plane");
}

TEST_F(EstimateCommandTest, GivesTheValuesOfARulerInItsOwnPlane) {
  const std::string file = work_.Write("t.csv", kCsv);
  const json corneal = json::parse(Nearpoint({"estimate", file}).out);
  const json spectacle = json::parse(Nearpoint({"estimate", "--plane", "spectacle", file}).out);
  EXPECT_EQ(spectacle["reference_plane"], "spectacle plane");
  EXPECT_EQ(spectacle["cut_off_mm"], 50.0);
  EXPECT_NEAR(spectacle["break_mm"]["value"].get<double>(),
              corneal["break_mm"]["value"].get<double>(), 0.5);
}

TEST_F(EstimateCommandTest, PoolsFiles) {
  const std::string file = work_.Write("t.csv", kCsv);
  const json estimate = json::parse(Nearpoint({"estimate", file, file}).out);
  EXPECT_EQ(estimate["trials_used"], 10);
}

TEST_F(EstimateCommandTest, NamesTheFileThatIsWrong) {
  const std::string good = work_.Write("t.csv", kCsv);
  EXPECT_THAT(Nearpoint({"estimate", good, work_ / "none.csv"}), Refuses(HasSubstr("none.csv")));
  EXPECT_THAT(Nearpoint({"estimate", good,
                         work_.Write("cm.csv", "break_mm,recovery_mm,censored\n6.5,9,\n")}),
              Refuses(AllOf(HasSubstr("cm.csv"), HasSubstr("centimetres"))));
  EXPECT_THAT(
      Nearpoint({"estimate", work_.Write("s.json", "{\"schema\": \"nearpoint/session/2\"}")}),
      Refuses(AllOf(HasSubstr("s.json"), HasSubstr("version 1"))));
  EXPECT_THAT(Nearpoint({"estimate", work_.Write("p.json", GoodProfile().dump())}),
              Refuses(AllOf(HasSubstr("p.json"), HasSubstr("nearpoint/session/1"))));
  EXPECT_THAT(Nearpoint({"estimate", work_.Write("empty.csv", "")}),
              Refuses(HasSubstr("empty.csv")));
  EXPECT_THAT(Nearpoint({"estimate", work_.path().string()}), Refuses(HasSubstr("folder")));
}

TEST_F(EstimateCommandTest, SaysThatNobodyTakesTheAnswer) {
  RunOptions full;
  full.standard_output = "/dev/full";
  EXPECT_THAT(Nearpoint({"estimate", work_.Write("t.csv", kCsv)}, full),
              Refuses(HasSubstr("Standard output")));
}

}  // namespace
}  // namespace nearpoint
