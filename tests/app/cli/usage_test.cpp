#include <gmock/gmock.h>

#include <algorithm>
#include <cstdlib>

#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

TEST(UsageTest, HelpIsThereForEverySubcommand) {
  for (const char* command :
       {"", "track", "measure", "estimate", "compare", "progress", "criteria", "keys", "seal",
        "unseal", "export-fhir", "export-csv", "exercise-sheet", "report", "review", "demo"}) {
    std::vector<std::string> arguments;
    if (*command != '\0') arguments.emplace_back(command);
    arguments.emplace_back("--help");
    const ProgramRun run = Nearpoint(arguments);
    EXPECT_EQ(run.status, 0) << command;
    EXPECT_THAT(run.out, HasSubstr("Usage")) << command;
    EXPECT_THAT(run.err, IsEmpty()) << command;
  }
  EXPECT_THAT(Nearpoint({"--help"}).out, HasSubstr("not a diagnosis"));
}

TEST(UsageTest, WrongUsageIsStatusTwo) {
  const std::vector<std::vector<std::string>> wrong{
      {"look"},
      {"track"},
      {"track", "--source", "0"},
      {"track", "--source", "0", "--profile", "p.json", "--fast"},
      {"measure", "--source", "a.avi", "--profile", "p.json", "--events", "e.jsonl"},
      {"estimate"},
      {"exercise-sheet"},
      {"exercise-sheet", "--pd-mm", "6", "--out", "a.pdf"},  // centimetres
      {"exercise-sheet", "--pd-mm", "60", "--profile", "p.json", "--out", "a.pdf"},
      {"exercise-sheet", "--pairs", "9", "--out", "a.pdf"},
      {"estimate", "--plane", "nose", "a.csv"},
      {"estimate", "--cut-off-mm", "-5", "a.csv"},
      {"estimate", "--age", "-1", "a.csv"},
      {"estimate", "--age", "old", "a.csv"},
      {"estimate", "--target", "thumb", "a.csv"},
      {"estimate", "--most-trials", "0", "a.csv"},
      {"measure", "--source", "a.avi", "--profile", "p.json", "--events", "e.jsonl", "--out", "s",
       "--started-at", "noon"},
      {"compare", "a.csv"},
      {"keys"},
      {"keys", "new"},
      {"keys", "add", "clinic"},
      {"seal", "s.json"},
      {"seal", "s.json", "--to", "clinic"},
      {"unseal"},
      {"report", "s.json"},
      {"report", "s.json", "--out", "r.pdf", "--for", "grandma"},
      {"export-fhir"},
      {"export-fhir", "s.json"},
      {"export-csv", "s.json", "--out", "folder"},
      {"compare", "a.csv", "b.csv", "--plane", "nose"},
      {"progress"},
      {"criteria", "--near-phoria", "much"},
      {"criteria", "--symptoms", "61"},
      {"criteria", "--base-out-break", "-2"},
      {"estimate", "--cut-off-mm", "near", "a.csv"},
      {"estimate", "--norm", "mine", "a.csv"},
      {"estimate", "--norm", "hayes-1998-grade-3", "a.csv"},  // means, and no limit
      {"estimate", "--norm", "citt", "--cut-off-mm", "60", "a.csv"},
      {"demo", "--trials", "0"},
      {"demo", "--seed", "x"},
  };
  for (const auto& arguments : wrong) {
    const ProgramRun run = Nearpoint(arguments);
    EXPECT_EQ(run.status, 2) << testing::PrintToString(arguments);
    EXPECT_THAT(run.out, IsEmpty()) << testing::PrintToString(arguments);
    EXPECT_THAT(run.err, Not(IsEmpty())) << testing::PrintToString(arguments);
  }
}

// Without a subcommand the window opens; without a display that is said, and what to do instead.
TEST(UsageTest, WithoutADisplayTheWindowIsOneSentence) {
  for (const char* variable : {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"}) {
    unsetenv(variable);
  }
  for (const std::vector<std::string>& arguments :
       {std::vector<std::string>{}, std::vector<std::string>{"--practice"}}) {
    const ProgramRun run = Nearpoint(arguments);
    EXPECT_EQ(run.status, 1);
    EXPECT_THAT(run.out, IsEmpty());
    EXPECT_THAT(run.err, HasSubstr("no display"));
    EXPECT_THAT(run.err, HasSubstr("nearpoint demo"));
    EXPECT_EQ(std::ranges::count(run.err, '\n'), 1) << run.err;
  }
}

}  // namespace
}  // namespace nearpoint
