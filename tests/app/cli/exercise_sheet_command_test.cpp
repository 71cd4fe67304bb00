#include <gmock/gmock.h>

#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

class ExerciseSheetCommandTest : public testing::Test {
 protected:
  std::string Text(const std::string& pdf) {
    return RunProgram("/usr/bin/pdftotext", {work_ / pdf, "-"}).out;
  }
  TempFolder work_;
};

// "fi" of the text is one letter in the PDF.
TEST_F(ExerciseSheetCommandTest, WritesASheetForAPupilDistance) {
  const ProgramRun run = Nearpoint({"exercise-sheet", "--pd-mm", "57.5", "--levels-mm", "200,120",
                                    "--out", work_ / "sheet.pdf"});
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, IsEmpty());
  EXPECT_THAT(run.err, IsEmpty());
  EXPECT_THAT(work_.Read("sheet.pdf"), StartsWith("%PDF"));
  const std::string text = Text("sheet.pdf");
  EXPECT_THAT(text, AllOf(HasSubstr("pupil distance of 57.5 mm"), HasSubstr("ngertip 20.0"),
                          HasSubstr("ngertip 12.0")));
}

TEST_F(ExerciseSheetCommandTest, TakesThePupilDistanceOfAProfile) {
  auto profile = GoodProfile();
  profile["face"]["distance_pd_mm"] = 61.0;
  profile["face"]["distance_pd_mm_sd"] = 0.6;
  const ProgramRun run =
      Nearpoint({"exercise-sheet", "--profile", work_.Write("p.json", profile.dump()), "--out",
                 work_ / "sheet.pdf"});
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(Text("sheet.pdf"), HasSubstr("61.0 mm (one standard deviation 0.6 mm)"));
}

TEST_F(ExerciseSheetCommandTest, TakesTheDistancesOfAPlanAndNamesThoseThatDoNotFit) {
  const std::string plan = work_.Write("plan.json", R"({"schema": "nearpoint/exercise-plan/1",
      "source": "clinician", "set_by": "B", "repetitions": 12, "hold_s": 4,
      "levels_mm": [180, 50], "first_level": 1, "days_per_week": 5, "time_of_day": "morning",
      "starts": null, "until": null, "note": null})");
  const ProgramRun run =
      Nearpoint({"exercise-sheet", "--pd-mm", "60", "--plan", plan, "--out", work_ / "sheet.pdf"});
  EXPECT_EQ(run.status, 0);
  EXPECT_THAT(run.err, HasSubstr("50 mm needs"));
  EXPECT_THAT(Text("sheet.pdf"), AllOf(HasSubstr("ngertip 18.0"), HasSubstr("12 times"),
                                       HasSubstr("4 s"), HasSubstr("Set by B.")));
}

TEST_F(ExerciseSheetCommandTest, NamesWhatIsWrong) {
  const std::string out = work_ / "sheet.pdf";
  EXPECT_THAT(Nearpoint({"exercise-sheet", "--profile", work_.Write("p.json", GoodProfile().dump()),
                         "--out", out}),
              Refuses(AllOf(HasSubstr("p.json"), HasSubstr("distance_pd_mm"))));
  EXPECT_THAT(Nearpoint({"exercise-sheet", "--pd-mm", "60", "--plan", work_.Write("bad.json", "{}"),
                         "--out", out}),
              Refuses(AllOf(HasSubstr("bad.json"), HasSubstr("schema"))));
  EXPECT_THAT(Nearpoint({"exercise-sheet", "--pd-mm", "60", "--levels-mm", "390", "--out", out}),
              Refuses(HasSubstr("390 mm")));
  EXPECT_THAT(Nearpoint({"exercise-sheet", "--pd-mm", "60", "--out", work_ / "no/such/a.pdf"}),
              Refuses(HasSubstr("no/such")));
}

}  // namespace
}  // namespace nearpoint
