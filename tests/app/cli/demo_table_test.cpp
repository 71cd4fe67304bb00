#include "app/cli/demo_table.h"

#include <gmock/gmock.h>

#include <sstream>
#include <string>
#include <vector>

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::vector<std::string> WordsOfTheLine(const std::string& text, const std::string& first) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    std::istringstream in(line);
    std::vector<std::string> words;
    for (std::string word; in >> word;) words.push_back(word);
    if (!words.empty() && words.front() == first) return words;
  }
  return {};
}

EventDistance At(double mm) {
  EventDistance at;
  at.value = {Length::Millimeters(mm), Length::Millimeters(1)};
  return at;
}

TEST(DemoTable, SetsTheReportTheEyesAndTheTruthSideBySide) {
  Session session;
  Trial seen;
  seen.number = 1;
  seen.break_point = At(80);
  seen.recovery = At(110);
  seen.objective_break = Length::Millimeters(82.5);
  seen.objective_recovery = Length::Millimeters(108.5);
  seen.approach_speed = Speed::MillimetersPerSecond(20);
  Trial unseen = seen;
  unseen.number = 2;
  unseen.objective_break.reset();
  unseen.objective_recovery.reset();
  session.trials = {seen, unseen};
  session.agreement.sentences = {"Report and eyes agree."};
  session.estimate.reference_plane = "corneal plane";
  simulate::Script truth;
  simulate::TrialTruth broke;
  broke.broke = true;
  broke.break_distance = Length::Millimeters(81);
  broke.recovery_distance = Length::Millimeters(109);
  truth.trials = {broke, simulate::TrialTruth()};

  const std::string text = DemoTable(session, truth);
  EXPECT_THAT(WordsOfTheLine(text, "1"),
              ElementsAre("1", "80.0", "82.5", "81.0", "110.0", "108.5", "109.0", "20.0"));
  EXPECT_THAT(WordsOfTheLine(text, "2"),
              ElementsAre("2", "80.0", "-", "-", "110.0", "-", "-", "20.0"));
  EXPECT_THAT(text, HasSubstr("Eyes: Report and eyes agree.\n"));
  // The eyes' distances move to the plane of the estimate like every other.
  session.estimate.reference_plane = "spectacle plane";
  EXPECT_THAT(WordsOfTheLine(DemoTable(session, truth), "1"),
              ElementsAre("1", "66.5", "69.0", "67.5", "96.5", "95.0", "95.5", "20.0"));
}

}  // namespace
}  // namespace nearpoint
