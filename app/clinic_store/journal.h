// Who did what in the clinic's file, in a chain: each entry holds the hash of the one before it. It
// names patients by their number in this file alone, so that it may outlive their data.
//
// What the chain shows and what not is said in app/review/audit_log.h. A review's own log is per
// session; its last hash is written here with each step, so that cutting off its end shows too.
#pragma once

#include <QString>
#include <string>
#include <vector>

#include "app/store/database.h"
#include "vision/core/result.h"

namespace nearpoint {

struct JournalEntry {
  qint64 number = 0;
  QString at;   // UTC
  QString by;   // who; "" the program itself
  QString act;  // "received", "matched", "reviewed", ...: a word of the program
  qint64 patient = 0;
  QString object;  // a hash, or the number of what it was done to; never words about a person
};

// Within the transaction of the caller. kBadValue: the last entry is not what it was.
[[nodiscard]] Result<void> AddToJournal(const Database& database, const JournalEntry& entry);

// Oldest first. Verifies the whole chain: kBadValue names the entry at which it breaks.
[[nodiscard]] Result<std::vector<JournalEntry>> ReadJournal(const Database& database);

}  // namespace nearpoint
