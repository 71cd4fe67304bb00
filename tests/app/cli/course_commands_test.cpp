#include <gmock/gmock.h>

#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

constexpr const char* kDiaryHeader = "measured_at,break_mm,recovery_mm,censored\n";

std::string Ruler(std::initializer_list<int> breaks) {
  std::string csv = "break_mm,recovery_mm,censored\n";
  for (const int mm : breaks) csv += std::to_string(mm) + ",,\n";
  return csv;
}

std::string Day(const std::string& moment, std::initializer_list<int> breaks) {
  std::string lines;
  for (const int mm : breaks) lines += moment + ',' + std::to_string(mm) + ",,\n";
  return lines;
}

class CompareTest : public testing::Test {
 protected:
  TempFolder work_;
};
using ProgressTest = CompareTest;

TEST_F(CompareTest, TellsAChangeFromRepeats) {
  const std::string before = work_.Write("a.csv", Ruler({100, 104, 96}));
  const ProgramRun run = Nearpoint({"compare", before, work_.Write("b.csv", Ruler({60, 62, 64}))});
  ASSERT_EQ(run.status, 0) << run.err;
  const json result = json::parse(run.out);
  EXPECT_EQ(result["schema"], "nearpoint/comparison/1");
  EXPECT_EQ(result["change"], "the near point came nearer");
  EXPECT_NEAR(result["difference_mm"].get<double>(), -38, 0.1);
  EXPECT_GT(result["reliable_change_mm"], 25);
  EXPECT_NEAR(result["earlier"]["break_mm"]["value"].get<double>(), 100, 0.1);
  EXPECT_GT(result["trial_repeatability_limit_mm"], result["within_session_sd_mm"]);
  EXPECT_THAT(result["cautions"].dump(), HasSubstr("time of day is unknown"));
  const json none =
      json::parse(Nearpoint({"compare", before, work_.Write("c.csv", Ruler({92, 95, 90}))}).out);
  EXPECT_EQ(none["change"], "no change beyond what repeats give");
}

TEST_F(CompareTest, OwnRepeatsNarrowTheLimit) {
  const std::string before = work_.Write("a.csv", Ruler({100, 101, 99}));
  const std::string after = work_.Write("b.csv", Ruler({85, 86, 84}));
  std::string diary = kDiaryHeader;
  for (int day = 10; day < 22; ++day) {
    diary += Day("2026-02-" + std::to_string(day), {100 + day % 2, 101 + day % 2, 99});
  }
  const std::string repeats = work_.Write("r.csv", diary);
  const json without = json::parse(Nearpoint({"compare", before, after}).out);
  const json with = json::parse(Nearpoint({"compare", before, after, "--repeats", repeats}).out);
  EXPECT_EQ(without["change"], "no change beyond what repeats give");
  EXPECT_EQ(with["change"], "the near point came nearer");
  EXPECT_LT(with["reliable_change_mm"], without["reliable_change_mm"]);
  EXPECT_THAT(with["day_to_day_from"].get<std::string>(), HasSubstr("this person's repeats"));
}

TEST_F(CompareTest, EveningAgainstMorningIsNotAChange) {
  const std::string morning =
      work_.Write("m.csv", kDiaryHeader + Day("2026-03-02T07:45", {80, 84, 76}));
  const std::string evening =
      work_.Write("e.csv", kDiaryHeader + Day("2026-03-09T19:30", {140, 144, 136}));
  const json result = json::parse(Nearpoint({"compare", morning, evening}).out);
  EXPECT_EQ(result["times_of_day_differ"], true);
  EXPECT_THAT(result["change"].get<std::string>(), HasSubstr("not called a change"));
  EXPECT_EQ(result["later"]["hour_of_day"], 19.5);
  EXPECT_THAT(Nearpoint({"compare", evening, morning}),
              Refuses(AllOf(HasSubstr("m.csv"), HasSubstr("earlier session first"))));
}

TEST_F(CompareTest, NamesWhatIsWrong) {
  const std::string good = work_.Write("a.csv", Ruler({100, 104, 96}));
  EXPECT_THAT(Nearpoint({"compare", good, work_ / "none.csv"}), Refuses(HasSubstr("none.csv")));
  const std::string two =
      work_.Write("d.csv", kDiaryHeader + Day("2026-03-02", {80}) + Day("2026-03-03", {81}));
  EXPECT_THAT(Nearpoint({"compare", good, two}),
              Refuses(AllOf(HasSubstr("d.csv"), HasSubstr("2 sessions"))));
  const std::string empty = work_.Write(
      "s.json", json{{"schema", "nearpoint/session/1"}, {"trials", json::array()}}.dump());
  EXPECT_THAT(Nearpoint({"compare", good, empty}),
              Refuses(AllOf(HasSubstr("s.json"), HasSubstr("no trial"))));
}

TEST_F(ProgressTest, DrawsTheCourse) {
  std::string diary = kDiaryHeader;
  for (int week = 0; week < 6; ++week) {
    const int mm = 130 - 9 * week;
    diary +=
        Day("2026-03-" + std::string(week < 2 ? "0" : "") + std::to_string(2 + 5 * week) + "T07:45",
            {mm - 2, mm, mm + 3});
  }
  diary += Day("2026-03-20T20:00", {150, 155});
  const ProgramRun run = Nearpoint({"progress", work_.Write("d.csv", diary)});
  ASSERT_EQ(run.status, 0) << run.err;
  const json result = json::parse(run.out);
  EXPECT_EQ(result["schema"], "nearpoint/progress/1");
  EXPECT_EQ(result["course"], "the near point comes nearer over the weeks");
  EXPECT_NEAR(result["slope_mm_per_week"]["value"].get<double>(), -9 * 7 / 5.0, 1);
  EXPECT_EQ(result["sessions_counted"], 6);
  ASSERT_EQ(result["sessions"].size(), 7u);
  for (const json& session : result["sessions"]) {
    const bool evening = session["hour_of_day"] == 20.0;
    EXPECT_EQ(session["counted"], !evening);
    EXPECT_EQ(session["why_not"].is_null(), !evening);
    EXPECT_FALSE(session["break_mm"]["value"].is_null());
  }
  EXPECT_FALSE(result["slope_all_times_of_day_mm_per_week"].is_null());
}

TEST_F(ProgressTest, TakesSessionFilesInAnyOrder) {
  const auto session = [&](const char* name, const char* moment, double mm) {
    json document = {
        {"schema", "nearpoint/session/1"},
        {"started_at", moment},
        {"trials", json::array()},
        {"shared_calibration", {{"relative_sd", 0.01}, {"offset_sd_mm", 1.4}, {"lag_sd_ms", 60}}}};
    for (const double offset : {-2.0, 0.0, 3.0}) {
      document["trials"].push_back({{"break_mm", mm + offset},
                                    {"break_sd_mm", 1},
                                    {"recovery_mm", nullptr},
                                    {"recovery_sd_mm", nullptr},
                                    {"censored", nullptr},
                                    {"approach_speed_mm_s", 15},
                                    {"set_aside", nullptr}});
    }
    return work_.Write(name, document.dump());
  };
  const std::string a = session("a.json", "2026-03-02T07:45:00+01:00", 120);
  const std::string b = session("b.json", "2026-03-16T07:30:00+01:00", 100);
  const std::string c = session("c.json", "2026-03-30T08:00:00+02:00", 80);
  const json in_order = json::parse(Nearpoint({"progress", a, b, c}).out);
  EXPECT_EQ(json::parse(Nearpoint({"progress", c, a, b}).out), in_order);
  EXPECT_NEAR(in_order["weeks"].get<double>(), 4, 0.01);
  EXPECT_LT(in_order["slope_mm_per_week"]["value"], -8);
}

TEST_F(ProgressTest, NeedsToKnowWhen) {
  EXPECT_THAT(Nearpoint({"progress", work_.Write("a.csv", Ruler({100, 104, 96}))}),
              Refuses(AllOf(HasSubstr("a.csv"), HasSubstr("measured_at"))));
  EXPECT_THAT(
      Nearpoint({"progress", work_.Write("d.csv", std::string(kDiaryHeader) + "monday,80,,\n")}),
      Refuses(AllOf(HasSubstr("d.csv, line 2"), HasSubstr("measured_at"))));
}

}  // namespace
}  // namespace nearpoint
