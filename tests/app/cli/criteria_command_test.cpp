#include <gmock/gmock.h>

#include <map>

#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

class CriteriaCommandTest : public testing::Test {
 protected:
  static std::string StatusOf(const json& result, const std::string& start) {
    for (const json& criterion : result["criteria"]) {
      if (criterion["name"].get<std::string>().starts_with(start)) return criterion["status"];
    }
    return "absent: " + start;
  }
  TempFolder work_;
};

TEST_F(CriteriaCommandTest, AllSignsWithTheirSources) {
  const std::string far =
      work_.Write("t.csv", "break_mm,recovery_mm,censored\n140,,\n144,,\n137,,\n");
  const ProgramRun run =
      Nearpoint({"criteria", far, "--age", "12", "--near-phoria", "8", "--far-phoria", "1",
                 "--base-out-break", "12", "--symptoms", "30"});
  ASSERT_EQ(run.status, 0) << run.err;
  const json result = json::parse(run.out);
  EXPECT_EQ(result["schema"], "nearpoint/criteria/1");
  EXPECT_EQ(StatusOf(result, "Sheard"), "not met");
  EXPECT_EQ(StatusOf(result, "All four"), "met");
  EXPECT_NEAR(result["sheard_prism_pd"].get<double>(), (2 * 8 - 12) / 3.0, 1e-3);
  EXPECT_THAT(result["note"].get<std::string>(), HasSubstr("diagnosis"));
  for (const json& criterion : result["criteria"]) {
    EXPECT_FALSE(criterion["source"].get<std::string>().empty());
  }
}

TEST_F(CriteriaCommandTest, NothingKnownIsNotEnoughData) {
  const json result = json::parse(Nearpoint({"criteria"}).out);
  for (const json& criterion : result["criteria"]) {
    EXPECT_EQ(criterion["status"], "not enough data") << criterion["name"];
  }
}

TEST_F(CriteriaCommandTest, OptionsGoBeforeTheFile) {
  const std::string context = work_.Write(
      "c.json",
      json{{"schema", "nearpoint/context/1"}, {"near_phoria_pd", 10}, {"base_out_blur_pd", 20}}
          .dump());
  EXPECT_EQ(StatusOf(json::parse(Nearpoint({"criteria", "--context", context}).out), "Sheard"),
            "met");
  EXPECT_EQ(StatusOf(json::parse(
                         Nearpoint({"criteria", "--context", context, "--near-phoria", "-4"}).out),
                     "Sheard"),
            "not enough data");  // eso is opposed by base in
}

TEST_F(CriteriaCommandTest, NamesWhatIsWrong) {
  const std::string slip =
      work_.Write("c.json", json{{"schema", "nearpoint/context/1"}, {"near_phorai_pd", 10}}.dump());
  EXPECT_THAT(Nearpoint({"criteria", "--context", slip}),
              Refuses(AllOf(HasSubstr("c.json"), HasSubstr("near_phorai_pd"))));
  EXPECT_THAT(Nearpoint({"criteria", "--context", work_ / "none.json"}),
              Refuses(HasSubstr("none.json")));
  EXPECT_THAT(Nearpoint({"criteria", "--base-out-blur", "20", "--base-out-break", "12"}),
              Refuses(HasSubstr("blur")));
}

}  // namespace
}  // namespace nearpoint
