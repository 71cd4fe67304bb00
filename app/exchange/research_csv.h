// Sessions for research: two tables and a dictionary of their columns, without what tells who it
// was.
//
// Pseudonymised: the person is the pseudonym that the caller gives; dates become days since the
// person's first session, with the hour of day; file names, sources and free words of people are
// left out. Who holds the list of pseudonyms can still find the person, so the tables are personal
// data.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/records/stored_session.h"
#include "vision/core/result.h"

namespace nearpoint {

struct ResearchTables {
  std::string sessions;    // one line a session
  std::string trials;      // one line a trial, those set aside included
  std::string dictionary;  // one line a column: table, column, type, unit, meaning
};

// Of one person, in any order; numbered by their day. RFC 4180, with a header, decimals with a
// point. Distances of trials are from the corneal plane, those of the estimate from its own, which
// stands beside them. kBadValue: a pseudonym that is not 1 to 32 letters, digits, - or _; no
// session.
[[nodiscard]] Result<ResearchTables> ResearchCsv(const std::vector<StoredSession>& sessions,
                                                 std::string_view pseudonym);

}  // namespace nearpoint
