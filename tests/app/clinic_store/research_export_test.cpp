#include "app/clinic_store/research_export.h"

#include "tests/app/clinic_store/clinic_fixture.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::Not;

class ResearchExportTest : public ClinicTest {};

std::vector<std::string> LinesOf(const std::string& table) {
  std::vector<std::string> lines;
  std::istringstream in(table);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::string FirstCell(const std::string& line) { return line.substr(0, line.find(',')); }

TEST_F(ResearchExportTest, NothingIsExportedOfNobody) {
  ClinicStore store = Open();
  EXPECT_THAT(ExportForResearch(store, "A. Optometrist"),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("Nothing was measured")));
}

TEST_F(ResearchExportTest, EverybodyUnderTheSamePseudonymEachTimeAndNobodyByName) {
  ClinicStore store = Open();
  SentSession later;
  later.started_at = "2026-03-09T07:45:00+01:00";
  Known(store, "Mira Demir", {SentSession(), later});
  home_ = KeysOf(3);
  const RowId second = Known(store, "Zoe Vance", {SentSession()}, 2);
  const auto tables = ExportForResearch(store, "A. Optometrist");
  ASSERT_THAT(tables, IsOk());
  const auto sessions = LinesOf(tables->sessions);
  ASSERT_EQ(sessions.size(), 4u);  // one header, three sessions
  EXPECT_EQ(FirstCell(sessions[1]), FirstCell(sessions[2]));
  EXPECT_NE(FirstCell(sessions[1]), FirstCell(sessions[3]));
  EXPECT_EQ(LinesOf(tables->trials).size(), 1 + 3 * 3u);
  for (const std::string* table : {&tables->sessions, &tables->trials}) {
    EXPECT_THAT(*table, Not(HasSubstr("Mira")));
    EXPECT_THAT(*table, Not(HasSubstr("Vance")));
    EXPECT_THAT(*table, Not(HasSubstr("2026-03")));
  }
  EXPECT_THAT(tables->dictionary, HasSubstr("pseudonym"));
  EXPECT_EQ(ReadJournal(store.database())->back().act, "exported for research");

  // A review is in it; the pseudonyms stay.
  const RowId measurement = store.Measurements(second)->front().id;
  EXPECT_THAT(store.Review(measurement, {"2026-03-14T09:26:00Z", "A. Optometrist",
                                         ReviewAct::kSetAside, 1, "looked away"}),
              IsOk());
  const auto again = ExportForResearch(store, "A. Optometrist");
  EXPECT_EQ(FirstCell(LinesOf(again->sessions)[3]), FirstCell(sessions[3]));
  EXPECT_NE(LinesOf(again->sessions)[3], sessions[3]);
  EXPECT_EQ(LinesOf(again->sessions)[1], sessions[1]);
  EXPECT_THAT(again->trials, Not(HasSubstr("looked away")));
}

}  // namespace
}  // namespace nearpoint
