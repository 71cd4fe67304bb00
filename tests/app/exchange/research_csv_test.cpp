#include "app/exchange/research_csv.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <sstream>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::Not;

StoredSession Stored(const char* moment, double break_mm) {
  StoredSession session;
  if (moment != nullptr) session.data.started_at = *ParseMoment(moment);
  session.source = "video /home/kim/kim.avi";
  Trial trial;
  trial.number = 1;
  trial.break_point.emplace().value = {Length::Millimeters(break_mm), Length::Millimeters(1.25)};
  Trial aside = trial;
  aside.number = 2;
  aside.set_aside = SetAside::kByHand;
  aside.set_aside_words = "Kim laughed";
  Trial nose;
  nose.number = 3;
  nose.censored = Censoring::kBelow;
  nose.limit = Length::Millimeters(52.5);
  session.data.trials = {trial, aside, nose};
  session.objective_breaks = {Length::Millimeters(81), std::nullopt, std::nullopt};
  session.estimate.break_mm = Band{.value = break_mm, .low = 70, .high = 90, .level = 0.95};
  session.estimate.reference_plane = "corneal plane";
  session.estimate.cut_off = Length::Millimeters(63.5);
  session.estimate.trials_used = 2;
  return session;
}

std::vector<std::vector<std::string>> Table(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) {
    EXPECT_EQ(line.back(), '\r');
    line.pop_back();
    rows.emplace_back();
    std::string cell;
    bool quoted = false;
    for (const char c : line + ',') {
      if (c == '"') {
        quoted = !quoted;
      } else if (c == ',' && !quoted) {
        rows.back().push_back(cell);
        cell.clear();
      } else {
        cell += c;
      }
    }
  }
  return rows;
}

std::string Cell(const std::vector<std::vector<std::string>>& rows, std::size_t row,
                 const std::string& column) {
  const auto& header = rows[0];
  const auto at = std::ranges::find(header, column);
  EXPECT_NE(at, header.end()) << column;
  return rows[row][static_cast<std::size_t>(at - header.begin())];
}

TEST(ResearchCsvTest, HasALineForEachSessionAndTrial) {
  const auto tables =
      ResearchCsv({Stored("2026-03-16T07:30", 76.5), Stored("2026-03-02T07:45", 80.5)}, "P-01");
  ASSERT_THAT(tables, IsOk());
  const auto sessions = Table(tables->sessions);
  ASSERT_EQ(sessions.size(), 3u);
  EXPECT_EQ(Cell(sessions, 1, "person"), "P-01");
  EXPECT_EQ(Cell(sessions, 1, "session"), "1");
  EXPECT_EQ(Cell(sessions, 1, "day"), "0");
  EXPECT_EQ(Cell(sessions, 1, "hour"), "7.75");
  EXPECT_EQ(Cell(sessions, 1, "break_mm"), "80.5");
  EXPECT_EQ(Cell(sessions, 2, "day"), "14");
  EXPECT_EQ(Cell(sessions, 2, "break_high_mm"), "90");
  EXPECT_EQ(Cell(sessions, 2, "recovery_mm"), "");
  const auto trials = Table(tables->trials);
  ASSERT_EQ(trials.size(), 7u);
  EXPECT_EQ(Cell(trials, 1, "break_sd_mm"), "1.25");
  EXPECT_EQ(Cell(trials, 1, "objective_break_mm"), "81");
  EXPECT_EQ(Cell(trials, 2, "set_aside"), "set aside by hand");
  EXPECT_EQ(Cell(trials, 3, "censored"), "below");
  EXPECT_EQ(Cell(trials, 3, "break_mm"), "52.5");
  for (const auto& table : {sessions, trials}) {
    for (const auto& row : table) EXPECT_EQ(row.size(), table[0].size());
  }
}

TEST(ResearchCsvTest, TheDictionaryNamesEveryColumnInItsOrder) {
  const auto tables = ResearchCsv({Stored(nullptr, 80)}, "P01");
  const auto dictionary = Table(tables->dictionary);
  std::vector<std::string> sessions, trials;
  for (std::size_t i = 1; i < dictionary.size(); ++i) {
    EXPECT_FALSE(Cell(dictionary, i, "meaning").empty());
    (Cell(dictionary, i, "table") == "sessions" ? sessions : trials)
        .push_back(Cell(dictionary, i, "column"));
  }
  EXPECT_EQ(Table(tables->sessions)[0], sessions);
  EXPECT_EQ(Table(tables->trials)[0], trials);
}

TEST(ResearchCsvTest, NamesNobody) {
  const auto tables = ResearchCsv({Stored("2026-03-02T07:45", 80)}, "P01");
  for (const std::string& table : {tables->sessions, tables->trials, tables->dictionary}) {
    for (const char* word : {"Kim", "kim", "2026", "avi"}) EXPECT_THAT(table, Not(HasSubstr(word)));
  }
  for (const char* name : {"", "Kim Lee", "Jürgen", "a,b", "P01\n", "=1+1"}) {
    EXPECT_THAT(ResearchCsv({Stored(nullptr, 80)}, name),
                FailsWith(ErrorCode::kBadValue, HasSubstr("pseudonym")));
  }
  EXPECT_THAT(ResearchCsv({}, "P01"), FailsWith(ErrorCode::kBadValue, HasSubstr("no session")));
}

}  // namespace
}  // namespace nearpoint
