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

TEST_F(EstimateCommandTest, AgeAndTargetChooseTheNorm) {
  const std::string file = work_.Write("t.csv", kCsv);
  const auto estimate = [&](const std::vector<std::string>& options) {
    std::vector<std::string> arguments{"estimate", file};
    arguments.insert(arguments.end(), options.begin(), options.end());
    return json::parse(Nearpoint(arguments).out);
  };
  const json child = estimate({"--age", "10", "--target", "letter"});
  EXPECT_EQ(child["cut_off_mm"], 73.5);  // 6 cm from the spectacle plane
  EXPECT_THAT(child["cut_off_from"].get<std::string>(), HasSubstr("Children"));
  ASSERT_GE(child["norms"].size(), 3u);
  // The measured value is moved to the norm's plane.
  EXPECT_EQ(child["norms"][0]["plane"], "spectacle plane");
  EXPECT_NEAR(child["norms"][0]["break_mm"]["value"].get<double>(),
              child["break_mm"]["value"].get<double>() - 13.5, 1e-3);
  for (const json& norm : child["norms"]) EXPECT_FALSE(norm["source"].get<std::string>().empty());
  const json adult = estimate({"--age", "30", "--plane", "spectacle"});
  EXPECT_EQ(adult["cut_off_mm"], 50.0);
  EXPECT_TRUE(estimate({})["norms"].is_null());
  // The person's choice stands, with a word where it does not fit.
  const json chosen = estimate({"--age", "30", "--norm", "citt"});
  EXPECT_EQ(chosen["cut_off_mm"], 73.5);
  EXPECT_THAT(chosen["cautions"].dump(), HasSubstr("ages 9 to 17"));
  const json light = estimate({"--norm", "citt", "--target", "light"});
  EXPECT_THAT(light["cautions"].dump(), HasSubstr("not for the target"));
}

TEST_F(EstimateCommandTest, WithoutANormItSaysSo) {
  const std::string file = work_.Write("t.csv", kCsv);
  EXPECT_THAT(Nearpoint({"estimate", "--age", "75", file}),
              Refuses(AllOf(HasSubstr("no published limit"), HasSubstr("75"))));
  EXPECT_THAT(Nearpoint({"estimate", "--age", "10", "--target", "light", file}),
              Refuses(AllOf(HasSubstr("no published limit"), HasSubstr("light"))));
  const ProgramRun own = Nearpoint({"estimate", "--age", "75", "--cut-off-mm", "90", file});
  ASSERT_EQ(own.status, 0) << own.err;
  EXPECT_EQ(json::parse(own.out)["norms"], json::array());
}

TEST_F(EstimateCommandTest, PlansTheNextTrial) {
  const json answered = json::parse(Nearpoint({"estimate", work_.Write("t.csv", kCsv)}).out);
  EXPECT_EQ(answered["planned_stopping"]["advice"], "answered");
  EXPECT_EQ(answered["planned_stopping"]["another_trial"], false);
  const std::string near =
      work_.Write("n.csv", "break_mm,recovery_mm,censored\n58,80,\n72,90,\n66,88,\n");
  const json open = json::parse(Nearpoint({"estimate", near}).out)["planned_stopping"];
  EXPECT_EQ(open["another_trial"], true);
  EXPECT_GT(open["chance_of_an_answer"], 0.05);
  EXPECT_GT(open["probability_beyond"], 0.5);
  const json full =
      json::parse(Nearpoint({"estimate", "--most-trials", "3", near}).out)["planned_stopping"];
  EXPECT_EQ(full["another_trial"], false);
  EXPECT_EQ(full["advice"], "the agreed number of trials is reached");
}

TEST_F(EstimateCommandTest, ListsWhatWasSetAside) {
  json session = {{"schema", "nearpoint/session/1"}, {"trials", json::array()}};
  for (const double mm : {95.0, 99.0, 97.0, 40.0}) {
    session["trials"].push_back({{"break_mm", mm},
                                 {"break_sd_mm", 1},
                                 {"recovery_mm", nullptr},
                                 {"recovery_sd_mm", nullptr},
                                 {"censored", nullptr},
                                 {"approach_speed_mm_s", nullptr},
                                 {"set_aside", nullptr}});
  }
  session["trials"][3]["set_aside"] = "the approach was too fast";
  const ProgramRun run = Nearpoint({"estimate", work_.Write("s.json", session.dump())});
  ASSERT_EQ(run.status, 0) << run.err;
  const json estimate = json::parse(run.out);
  EXPECT_EQ(estimate["trials_used"], 3);
  ASSERT_EQ(estimate["set_aside"].size(), 1u);
  const json& rule = estimate["set_aside"][0];
  EXPECT_EQ(rule["reason"], "the approach was too fast");
  EXPECT_EQ(rule["trials"], json({4}));
  EXPECT_EQ(rule["without_this_rule"]["trials_used"], 4);
  EXPECT_LT(rule["without_this_rule"]["break_mm"]["value"], 90);
  EXPECT_EQ(rule["without_this_rule"]["answer"], "cannot tell yet");
}

TEST_F(EstimateCommandTest, ATrendBringsTheFirstAndTheLast) {
  std::string csv = "break_mm,recovery_mm,censored\n";
  for (int i = 0; i < 8; ++i) csv += std::to_string(70 + 6 * i + i % 2) + ",,\n";
  const json estimate = json::parse(Nearpoint({"estimate", work_.Write("t.csv", csv)}).out);
  EXPECT_EQ(estimate["trend_present"], true);
  EXPECT_GT(estimate["trend_mm_per_trial"]["low"], 0);
  EXPECT_NEAR(estimate["first_break_mm"]["value"].get<double>(), 70, 4);
  EXPECT_NEAR(estimate["last_break_mm"]["value"].get<double>(), 112, 4);
  EXPECT_TRUE(estimate["lag_correction_mm"].is_null());  // a ruler has none
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
