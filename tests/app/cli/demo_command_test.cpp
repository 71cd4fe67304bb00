#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::HasSubstr;

// One trial, so that the test is short; the program's default of five is what a person sees.
TEST(DemoCommandTest, MeasuresThePatientAndKeepsTheTruthApart) {
  const TempFolder work;
  const std::string out = work / "deep/demo";
  const ProgramRun run = Nearpoint({"demo", "--trials", "1", "--seed", "4", "--out", out});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, HasSubstr("not a diagnosis"));
  EXPECT_THAT(run.out, HasSubstr("from the corneal plane"));
  EXPECT_THAT(run.out, HasSubstr("by eyes"));

  const std::string name = "deep/demo/";
  const json session = json::parse(work.Read(name + "session.json"));
  EXPECT_EQ(session["schema"], "nearpoint/session/1");
  ASSERT_EQ(session["trials"].size(), 1u);
  for (const auto& sentence : session["agreement"]["sentences"]) {
    EXPECT_THAT(run.out, HasSubstr(sentence.get<std::string>()));
  }
  EXPECT_EQ(work.Read(name + "session.json").find("truth"), std::string::npos);
  EXPECT_THAT(work.Read(name + "trace.svg"), HasSubstr("<svg"));

  const auto track = JsonLines(work.Read(name + "track.jsonl"));
  const auto truth = JsonLines(work.Read(name + "truth.jsonl"));
  ASSERT_EQ(track.size(), truth.size());
  std::vector<double> errors;
  for (std::size_t i = 0; i < track.size(); ++i) {
    ASSERT_EQ(track[i]["frame"], truth[i]["frame"]);
    if (track[i]["distance_mm"].is_null()) continue;
    errors.push_back(
        std::abs(track[i]["distance_mm"].get<double>() - truth[i]["distance_mm"].get<double>()));
  }
  ASSERT_GT(errors.size(), track.size() / 2);
  std::nth_element(errors.begin(), errors.begin() + static_cast<std::ptrdiff_t>(errors.size() / 2),
                   errors.end());
  EXPECT_LT(errors[errors.size() / 2],
            2.0);  // mm, median; the error budget of one distance at the near point
}

TEST(DemoCommandTest, SaysThatItCannotMakeItsFolder) {
  const TempFolder work;
  work.Write("file", "");
  EXPECT_THAT(Nearpoint({"demo", "--out", work / "file/demo"}), Refuses(HasSubstr("file/demo")));
}

}  // namespace
}  // namespace nearpoint
