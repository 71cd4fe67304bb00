// Merges a station with the server of its event: what one has and the other lacks goes over, both
// ways. Records are only added, so a merge can break off at any point and be run again.
//
// Each place holds, of each station, its records 1, 2, 3... up to some number without a gap (but
// for deleted events); a merge compares these numbers and hands over what is above, all of one
// direction in one transaction. On the way to the server a record is sealed, on the way from it
// opened (event_keys.h); one whose key is not here waits.
#pragma once

#include <QString>
#include <optional>
#include <vector>

#include "app/event_store/event_store.h"

namespace nearpoint {

struct SyncReport {
  int sent = 0;  // records
  int received = 0;
  std::vector<Uuid> deleted;  // events that were deleted here because their organiser asked
  // Deleted by their organiser while records lay here that had reached nobody: those are kept until
  // they were exported and the event is deleted here by hand.
  std::vector<Uuid> held;
  // Events that are here and cannot be opened yet: their key comes with another station.
  int locked = 0;
};

// Errors: kUnavailable (the server; run it again later), kMismatch (two stations of one identity, a
// newer version), kNotWritable (the file). What one direction brought stays if the other fails.
[[nodiscard]] Result<SyncReport> Sync(EventStore& store, const EventDatabase& server);

// The server as the station's settings name it, kept open from one merge to the next and opened
// anew after it failed. Of one thread.
class ServerLink {
 public:
  // kNotFound: no server is set.
  [[nodiscard]] Result<SyncReport> Merge(EventStore& store);

 private:
  std::optional<EventDatabase> server_;
  ServerAccess access_;
};

// Records of this station that are not on the server yet, as it was last seen.
[[nodiscard]] Result<int> Waiting(const EventStore& store);

}  // namespace nearpoint
