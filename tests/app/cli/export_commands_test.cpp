#include <gmock/gmock.h>

#include <filesystem>

#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;

class ExportCommandsTest : public testing::Test {
 protected:
  static json Document() {
    const json band = {{"value", 98.0}, {"low", 90.0}, {"high", 106.0}, {"level", 0.95}};
    const json trial = {{"break_mm", 98},         {"break_sd_mm", 1},
                        {"recovery_mm", nullptr}, {"recovery_sd_mm", nullptr},
                        {"censored", nullptr},    {"approach_speed_mm_s", nullptr},
                        {"set_aside", nullptr}};
    return {{"schema", "nearpoint/session/1"},
            {"started_at", "2026-03-02T07:45:00+01:00"},
            {"trials", {trial}},
            {"estimate",
             {{"break_mm", band},
              {"recovery_mm", nullptr},
              {"trend_mm_per_trial", nullptr},
              {"between_trial_sd_mm", nullptr},
              {"answer", "beyond the cut-off"},
              {"cut_off_mm", 63.5},
              {"reference_plane", "corneal plane"}}},
            {"cautions", json::array()}};
  }
  TempFolder work_;
};

TEST_F(ExportCommandsTest, PrintsABundle) {
  const std::string file = work_.Write("s.json", Document().dump());
  const ProgramRun run = Nearpoint({"export-fhir", file, "--subject", "P01"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_EQ(json::parse(run.out)["resourceType"], "Bundle");
  const std::string out = work_ / "bundle.json";
  const ProgramRun written =
      Nearpoint({"export-fhir", file, "--subject", "P01", "--transaction", "--out", out});
  ASSERT_EQ(written.status, 0) << written.err;
  EXPECT_THAT(written.out, IsEmpty());
  EXPECT_EQ(json::parse(work_.Read("bundle.json"))["type"], "transaction");
  EXPECT_EQ(json::parse(Nearpoint({"export-fhir", "--code-system"}).out)["resourceType"],
            "CodeSystem");
}

TEST_F(ExportCommandsTest, WritesTheTables) {
  const std::string file = work_.Write("s.json", Document().dump());
  const std::string out = work_ / "tables";
  const ProgramRun run = Nearpoint({"export-csv", file, "--pseudonym", "P01", "--out", out});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.err, HasSubstr("personal data"));
  EXPECT_THAT(work_.Read("tables/sessions.csv"), HasSubstr("P01,1,0,7.75"));
  EXPECT_THAT(work_.Read("tables/trials.csv"), HasSubstr("P01,1,1,98"));
  EXPECT_THAT(work_.Read("tables/dictionary.csv"), HasSubstr("sessions,break_mm,number,mm"));
}

TEST_F(ExportCommandsTest, PrintsAPage) {
  const std::string file = work_.Write("s.json", Document().dump());
  const ProgramRun run = Nearpoint({"report", file, "--for", "parent", "--out", work_ / "r.pdf"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.err, IsEmpty());
  EXPECT_EQ(work_.Read("r.pdf").substr(0, 5), "%PDF-");
  EXPECT_THAT(Nearpoint({"report", file, "--out", work_ / "no/r.pdf"}),
              Refuses(HasSubstr("no/r.pdf")));
}

TEST_F(ExportCommandsTest, ASchoolsCopyNeedsConsent) {
  const std::string file = work_.Write("s.json", Document().dump());
  EXPECT_THAT(Nearpoint({"report", file, "--for", "school", "--out", work_ / "r.pdf"}),
              Refuses(HasSubstr("--consent")));
  EXPECT_EQ(work_.Count(), 1);
  EXPECT_EQ(
      Nearpoint({"report", file, "--for", "school", "--consent", "--out", work_ / "r.pdf"}).status,
      0);
}

TEST_F(ExportCommandsTest, AFullDiskLeavesNothing) {
  const std::string file = work_.Write("s.json", Document().dump());
  RunOptions full;
  full.largest_file = 400;  // room for some of the tables
  const auto refuses = [&](std::vector<std::string> arguments, const std::string& name) {
    arguments.insert(arguments.end(), {"--out", work_ / name});
    EXPECT_THAT(Nearpoint(arguments, full), Refuses(HasSubstr(name)));
    EXPECT_EQ(work_.Count(), 1) << name;
  };
  refuses({"export-csv", file, "--pseudonym", "P01"}, "tables");
  refuses({"export-fhir", file, "--subject", "P01"}, "bundle.json");
  refuses({"report", file}, "r.pdf");
  // Tables of an earlier day stay whole.
  std::filesystem::create_directory(work_ / "tables");
  work_.Write("tables/sessions.csv", "before");
  EXPECT_THAT(
      Nearpoint({"export-csv", file, "--pseudonym", "P01", "--out", work_ / "tables"}, full),
      Refuses(HasSubstr("tables/")));
  EXPECT_EQ(work_.Read("tables/sessions.csv"), "before");
}

TEST_F(ExportCommandsTest, NamesWhatIsWrong) {
  json bad = Document();
  bad["estimate"].erase("answer");
  const std::string file = work_.Write("bad.json", bad.dump());
  EXPECT_THAT(Nearpoint({"export-fhir", file, "--subject", "P01"}),
              Refuses(AllOf(HasSubstr("bad.json"), HasSubstr("estimate.answer"))));
  EXPECT_THAT(Nearpoint({"export-csv", file, "--pseudonym", "P01", "--out", work_ / "t"}),
              Refuses(HasSubstr("bad.json")));
  bad = Document();
  bad["estimate"]["break_mm"]["high"] = 10;
  EXPECT_THAT(Nearpoint({"export-fhir", work_.Write("b.json", bad.dump()), "--subject", "P01"}),
              Refuses(HasSubstr("estimate.break_mm.high")));
  bad = Document();
  bad["estimate"]["reference_plane"] = "nose";
  EXPECT_THAT(Nearpoint({"export-fhir", work_.Write("b.json", bad.dump()), "--subject", "P01"}),
              Refuses(HasSubstr("reference_plane")));
  bad = Document();
  bad["source"] = "simulated patient";
  EXPECT_THAT(Nearpoint({"export-fhir", work_.Write("d.json", bad.dump()), "--subject", "P01"}),
              Refuses(AllOf(HasSubstr("d.json"), HasSubstr("simulated"))));
  const std::string good = work_.Write("s.json", Document().dump());
  EXPECT_THAT(Nearpoint({"export-fhir", good, "--subject", "P01", "--out", work_ / "no/b.json"}),
              Refuses(HasSubstr("no/b.json")));
  EXPECT_THAT(Nearpoint({"export-csv", good, "--pseudonym", "Kim Lee", "--out", work_ / "t"}),
              Refuses(HasSubstr("no pseudonym")));
}

}  // namespace
}  // namespace nearpoint
