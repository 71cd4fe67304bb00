#include "app/event/roster.h"

#include <gmock/gmock.h>

#include <map>
#include <random>
#include <set>

#include "tests/support/roster_faults.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

RosterRules Rules() {
  RosterRules rules;
  rules.year = 2026, rules.month = 3, rules.day = 14;
  return rules;
}

Roster Read(std::string_view text) { return ReadRoster(text, "list.csv", Rules()).value(); }

TEST(RosterTest, ReadsAnyOrderOfColumnsInTwoLanguages) {
  const Roster english =
      Read("class,consent,first name,last name,date of birth,no\n3a,yes,Ann,Lee,2017-09-14,12\n");
  ASSERT_THAT(english.faults, IsEmpty());
  ASSERT_THAT(english.children, SizeIs(1));
  const RosterChild& ann = english.children.front();
  EXPECT_EQ(ann.child.name, "Ann Lee");
  EXPECT_EQ(ann.child.number, "12");
  EXPECT_EQ(ann.child.group, "3a");
  EXPECT_EQ(ann.consent, true);
  EXPECT_NEAR(*ann.child.age_years, 8.5, 0.01);

  const Roster german = Read("Name;Vorname;Klasse;Alter\nGroß;Änne;4b;9,5\n");
  ASSERT_THAT(german.faults, IsEmpty());
  EXPECT_EQ(german.children.front().child.name, "Änne Groß");
  EXPECT_EQ(german.children.front().child.number, "1");  // given in order
  EXPECT_DOUBLE_EQ(*german.children.front().child.age_years, 9.5);
  EXPECT_EQ(german.children.front().consent, std::nullopt);
}

TEST(RosterTest, ReadsOtherEncodings) {
  const Roster roster = Read("Vorname;Klasse\nJ\xFCrgen;1\nZo\xEB;1\n");
  EXPECT_EQ(roster.encoding, "Windows-1252");
  EXPECT_EQ(roster.children[0].child.name, "Jürgen");
  EXPECT_EQ(roster.children[1].child.name, "Zoë");
}

TEST(RosterTest, ColumnsCanBeChosenByHand) {
  RosterColumns columns;
  columns[static_cast<std::size_t>(RosterField::kName)] = 1;
  const auto roster = ReadRoster("alpha,beta\n17,Ann\n", "f", Rules(), columns);
  ASSERT_TRUE(roster);
  EXPECT_EQ(roster->children.front().child.name, "Ann");
  columns[static_cast<std::size_t>(RosterField::kGroup)] = 1;
  EXPECT_EQ(ReadRoster("alpha,beta\n17,Ann\n", "f", Rules(), columns)->faults.front().kind,
            FaultKind::kColumnTwice);
  columns[static_cast<std::size_t>(RosterField::kGroup)] = 9;
  EXPECT_EQ(ReadRoster("alpha,beta\n17,Ann\n", "f", Rules(), columns)->faults.front().kind,
            FaultKind::kColumnMissing);
}

// However the office calls it, a "no" stays a "no".
TEST(RosterTest, AParentsNoIsReadUnderItsUsualNames) {
  for (const char* header :
       {"Einverständnis", "Zustimmung", "OK der Eltern", "Einverständniserklärung der Eltern",
        "EINVERSTAENDNIS", "Elterliche Zustimmung", "Kind darf teilnehmen", "Genehmigung",
        "Parental consent", "Written permission", "May take part", "Agreed"}) {
    const Roster roster =
        Read("Nr;Schüler;Klasse;" + std::string(header) + "\n1;Ann;3a;nein\n2;Ben;3a;ja\n");
    ASSERT_THAT(roster.faults, IsEmpty()) << header;
    ASSERT_THAT(roster.children, SizeIs(2)) << header;
    EXPECT_EQ(roster.children[0].consent, false) << header;
    EXPECT_EQ(roster.children[1].consent, true) << header;
  }
}

// A column that nobody understood may be the parents' answer: it is listed, and its fault keeps the
// import from going on, until somebody says what it is.
TEST(RosterTest, AColumnThatIsNotUnderstoodIsAFaultUntilSomebodySays) {
  const std::string text = "Nr,Name,Rückmeldung,Kein Einverständnis\n1,Ann,nein,x\n";
  const Roster roster = Read(text);
  ASSERT_THAT(roster.faults, SizeIs(2));
  EXPECT_EQ(roster.faults[0].kind, FaultKind::kColumnUnknown);
  EXPECT_THAT(roster.faults[0].sentence, HasSubstr("Rückmeldung"));
  ASSERT_THAT(roster.unknown, SizeIs(2));
  EXPECT_EQ(roster.unknown[0].example, "nein");
  EXPECT_EQ(roster.unknown[1].name, "Kein Einverständnis");  // x there is no yes
  EXPECT_EQ(roster.rows_with_faults, 0);
  RosterColumns columns = roster.columns;
  columns[static_cast<std::size_t>(RosterField::kConsent)] = 2;
  const auto told = ReadRoster(text, "f", Rules(), columns, {3});
  ASSERT_TRUE(told);
  EXPECT_THAT(told->faults, IsEmpty());
  EXPECT_EQ(told->children.front().consent, false);
}

TEST(RosterTest, AFaultOfTheWholeFileLeavesNoChild) {
  const Roster nobody = Read("alpha,beta\n1,2\n");
  EXPECT_THAT(nobody.faults, ElementsAre(Field(&RosterFault::kind, FaultKind::kNoIdentity)));
  EXPECT_THAT(nobody.children, IsEmpty());
  EXPECT_THAT(Read("name,class\n").faults,
              ElementsAre(Field(&RosterFault::kind, FaultKind::kNoChildren)));
  RosterRules few = Rules();
  few.most_rows = 1;
  EXPECT_THAT(ReadRoster("name\nA\nB\n", "f", few)->faults,
              ElementsAre(Field(&RosterFault::kind, FaultKind::kTooManyRows)));
}

TEST(RosterTest, AFaultNamesItsLineItsColumnAndWhatWasExpected) {
  const Roster roster = Read("No,Pupil,Age\n1,Ann,8\n2,Ben,-3\n");
  ASSERT_THAT(roster.faults, SizeIs(1));
  EXPECT_EQ(roster.faults[0].line, 3);
  EXPECT_EQ(roster.faults[0].column, "Age");
  EXPECT_THAT(roster.faults[0].sentence, AllOf(HasSubstr("\"-3\""), HasSubstr("3 to 21 years")));
  EXPECT_THAT(roster.children, SizeIs(1));
}

// 5,000 rows; every kind of fault a row can have, each several times at places of its own; every
// one is found in its row, no row is called faulty that is not, and no faulty one becomes a child.
TEST(RosterTest, FindsEveryKindOfFaultAmongFiveThousandRows) {
  const std::vector<Planted> planted = AllPlanted();
  ASSERT_GE(planted.size(), 40u);
  constexpr int kRows = 5000;
  std::mt19937 random(3);
  std::map<int, const Planted*> at;  // row to fault
  std::uniform_int_distribution<int> place(50, kRows - 1);
  for (const Planted& fault : planted) {
    for (int row = place(random);;) {
      if (!at.contains(row)) {
        at[row] = &fault;
        break;
      }
      row = place(random);
    }
  }
  std::string text = kPlantedHeader;
  std::map<int, FaultKind> expected;  // by line
  int line = 2;
  for (int row = 0; row < kRows; ++row) {
    std::string cells;
    if (const auto fault = at.find(row); fault != at.end()) {
      expected[line] = fault->second->kind;
      cells = fault->second->row;
    } else if (row == 0) {
      cells = "S0,First,Sound,2c,8,,yes";
    } else if (row == 1) {
      cells = "S1,Nothing,Else,,,,no";
    } else {
      // A name of its own for each: letters only.
      std::string name = "Aa";
      for (int rest = row; rest > 0; rest /= 26) name += static_cast<char>('a' + rest % 26);
      cells = "S" + std::to_string(row) + "," + name + ",Sound,2c,8,,yes";
    }
    text += cells + "\n";
    line += 1 + static_cast<int>(std::ranges::count(cells, '\n'));
  }
  const Roster roster = Read(text);
  EXPECT_EQ(roster.rows, kRows);
  std::map<int, std::set<FaultKind>> found;
  for (const RosterFault& fault : roster.faults) {
    found[fault.line].insert(fault.kind);
    EXPECT_FALSE(fault.sentence.empty());
  }
  for (const auto& [where, kind] : expected) {
    EXPECT_THAT(found[where], Contains(kind)) << "line " << where;
  }
  for (const auto& [where, kinds] : found) {
    EXPECT_TRUE(expected.contains(where)) << "line " << where << " is sound";
  }
  EXPECT_EQ(roster.rows_with_faults, static_cast<int>(planted.size()));
  EXPECT_EQ(roster.children.size(), kRows - planted.size());
  for (const RosterChild& child : roster.children) {
    EXPECT_FALSE(expected.contains(child.line));
  }
}

TEST(RosterTest, NamesakesWithSomethingBetweenThemAreTwoChildren) {
  EXPECT_THAT(Read("name,class,age\nAnn Lee,3a,8\nAnn Lee,3b,8\nAnn Lee,3a,10\n").faults,
              IsEmpty());
}

TEST(RosterTest, SlashesAreReadWhereOnlyOneOrderIsPossible) {
  const Roster roster = Read("name,born\nAnn,14/03/2017\nBen,03/14/2017\nCid,03/03/2017\n");
  EXPECT_THAT(roster.faults, IsEmpty());
  EXPECT_NEAR(*roster.children[0].child.age_years, 9, 0.01);
  EXPECT_NEAR(*roster.children[1].child.age_years, 9, 0.01);
}

}  // namespace
}  // namespace nearpoint
