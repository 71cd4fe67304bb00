#include "app/event/totals.h"

#include <gmock/gmock.h>

#include "tests/app/event/event_log.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::SizeIs;

TEST(TotalsTest, CountsEveryChildOnce) {
  std::vector<EventRecord> log;
  LogStation a("A", log);
  LogStation b("B", log);
  a.Write("", EventOpened{"Hall", "2026-03-14", EventRule()});
  for (int i = 1; i <= 9; ++i) {
    const std::string uuid = "c" + std::to_string(i);
    a.Write(uuid,
            NewChild(std::to_string(i), "Child", "3a", i <= 4 ? std::optional(7.9) : std::nullopt));
    if (i != 8) a.Write(uuid, ConsentTaken{i != 9, "form"});
  }
  b.Merge();
  a.Measure("c1", 0.1);
  a.Measure("c2", 0.9);
  a.Measure("c3", 0.6);
  b.Measure("c3", 0.6);  // twice, unseen
  const Uuid undone = a.Measure("c4", 0.9);
  a.Write("c4", Undone{undone});
  a.Write("c5", MeasuringStopped{StopReason::kAbsent});
  a.Write("c6", MeasuringStarted());
  const Totals totals = TotalsOf(StateOf(log));
  EXPECT_EQ(totals.listed, 9);
  EXPECT_EQ(totals.measured, 3);
  EXPECT_EQ(totals.within, 1);
  EXPECT_EQ(totals.see_professional, 1);
  EXPECT_EQ(totals.again, 1);
  EXPECT_EQ(totals.conflicts, 1);
  EXPECT_EQ(totals.undone, 1);
  EXPECT_EQ(totals.absent, 1);
  EXPECT_EQ(totals.measuring, 1);
  EXPECT_EQ(totals.refused, 1);
  EXPECT_EQ(totals.not_asked, 1);
  EXPECT_EQ(totals.waiting, 3);  // 4, 7 and 8; 9 was refused
  EXPECT_EQ(totals.trials, 9);
  EXPECT_EQ(totals.trials_set_aside, 3);
  EXPECT_EQ(totals.set_aside_why.at("the approach was too fast"), 3);
  EXPECT_EQ(totals.median_seconds, 100);
  ASSERT_THAT(totals.by_age, SizeIs(2));
  EXPECT_EQ(totals.by_age[0].ages, "7");
  EXPECT_EQ(totals.by_age[0].children, 4);
  EXPECT_EQ(totals.by_age[0].measured, 3);
  EXPECT_EQ(totals.by_age[1].ages, "unknown");
  // Every child is in exactly one place.
  EXPECT_EQ(totals.measured + totals.waiting + totals.measuring + totals.paused + totals.absent +
                totals.unable + totals.declined + totals.caution + totals.refused,
            totals.listed);
  EXPECT_THAT(TotalsCsv(totals), HasSubstr("see a professional,1\n"));
}

TEST(TotalsTest, WhoNeedsLookingAfterIsCountedMeasuredOrNotAndUnderNothingElse) {
  std::vector<EventRecord> log;
  LogStation a("A", log);
  a.Write("", EventOpened{"Hall", "2026-03-14", EventRule()});
  for (const char* child : {"c1", "c2", "c3"}) {
    a.Write(child, NewChild(std::string(1, child[1])));
    a.Write(child, ConsentTaken{true, "form"});
  }
  a.Measure("c1", 0.1);
  a.Write("c1", MeasuringStopped{StopReason::kCaution});
  a.Write("c2", MeasuringStopped{StopReason::kCaution});
  a.Measure("c3", 0.1);
  const EventState state = StateOf(log);
  const Totals totals = TotalsOf(state);
  EXPECT_EQ(totals.look_after, 2);
  EXPECT_EQ(totals.look_after_measured, 1);
  EXPECT_EQ(totals.caution, 1);
  EXPECT_EQ(totals.measured, 2);
  EXPECT_EQ(totals.within, 1);
  EXPECT_EQ(totals.by_age[0].look_after, 2);
  EXPECT_EQ(totals.measured, totals.within + totals.look_after_measured);
  EXPECT_THAT(TotalsCsv(totals), HasSubstr("needs looking after,2\n"));
  const std::string csv = ChildrenCsv(state);
  EXPECT_THAT(csv, HasSubstr("measured,needs looking after,"));
  EXPECT_THAT(csv, HasSubstr("caution,needs looking after,"));
}

TEST(TotalsTest, WhoDidNotWantToIsNotOneWhoCouldNot) {
  std::vector<EventRecord> log;
  LogStation a("A", log);
  a.Write("", EventOpened{"Hall", "2026-03-14", EventRule()});
  for (const char* child : {"c1", "c2"}) a.Write(child, NewChild(std::string(1, child[1])));
  a.Write("c1", MeasuringStopped{StopReason::kDeclined});
  a.Write("c2", MeasuringStopped{StopReason::kUnable});
  const Totals totals = TotalsOf(StateOf(log));
  EXPECT_EQ(totals.declined, 1);
  EXPECT_EQ(totals.unable, 1);
  EXPECT_THAT(ChildrenCsv(StateOf(log)), HasSubstr(",declined,"));
  EXPECT_THAT(TotalsCsv(totals), HasSubstr("did not want to,1\n"));
}

TEST(TotalsTest, BothOfAConflictStandInTheTable) {
  std::vector<EventRecord> log;
  LogStation a("A", log);
  LogStation b("B", log);
  a.Write("", EventOpened{"Hall", "2026-03-14", EventRule()});
  a.Write("c1", NewChild("1", "Ann"));
  a.Write("c1", ConsentTaken{true, "form"});
  b.Merge();
  a.Measure("c1", 0.1);
  b.Measure("c1", 0.9);
  const std::string csv = MeasurementsCsv(StateOf(log));
  EXPECT_THAT(csv, HasSubstr("0001.json,1,open,2026-03-14T09:00:00Z,A,volunteer A,within,"));
  EXPECT_THAT(csv, HasSubstr("0001-2.json,1,open,2026-03-14T09:00:00Z,B,volunteer B,see a "));
  EXPECT_THAT(csv, HasSubstr(",80.5,"));
  EXPECT_THAT(csv, Not(HasSubstr("Ann")));  // names stand in one table alone
}

TEST(TotalsTest, TheListNamesThePlaneAndMovesTheValuesThere) {
  std::vector<EventRecord> log;
  LogStation a("A", log);
  a.Write("", EventOpened{"Hall", "2026-03-14", EventRule()});
  a.Write("c1", NewChild("1", "=HYPERLINK(1)", "3;a"));
  a.Write("c1", ConsentTaken{true, "form"});
  a.Measure("c1", 0.9);  // 94 mm from the corneal plane
  const std::string csv = ChildrenCsv(StateOf(log));
  EXPECT_THAT(csv, HasSubstr(",80.5,"));  // 13.5 mm less from the spectacle plane
  EXPECT_THAT(csv, HasSubstr(",60.0,spectacle"));
  EXPECT_THAT(csv, HasSubstr("'=HYPERLINK(1)"));
  EXPECT_THAT(csv, HasSubstr("see a professional"));
  EXPECT_THAT(csv, Not(HasSubstr("nan")));
}

}  // namespace
}  // namespace nearpoint
