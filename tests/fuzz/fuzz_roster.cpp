// The roster of an event: a table in any encoding, or a workbook.
#include <set>

#include "app/event/roster.h"
#include "tests/fuzz/fuzz.h"

using namespace nearpoint;

void FuzzOne(std::string_view input) {
  RosterRules rules;
  rules.year = 2026, rules.month = 3, rules.day = 14;
  const auto roster = ReadRoster(input, "fuzz", rules);
  if (!roster) return;
  std::set<int> faulty;
  for (const RosterFault& fault : roster->faults) faulty.insert(fault.line);
  std::set<std::string> numbers;
  for (const RosterChild& child : roster->children) {
    // No child comes out of a faulty row, and no number twice.
    Require(!faulty.contains(child.line));
    Require(child.child.number.empty() || numbers.insert(child.child.number).second);
    Require(!child.child.age_years || (*child.child.age_years >= rules.youngest &&
                                       *child.child.age_years < rules.oldest + 1));
  }
}
