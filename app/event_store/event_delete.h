// The end of an event: its records go from the server and from every station, and each says so.
#pragma once

#include <string>
#include <vector>

#include "app/event_store/event_sync.h"

namespace nearpoint {

// Held by whoever adds records to the server or deletes an event there, so that neither overtakes
// the other.
inline constexpr const char* kDeletionLock = "SELECT pg_advisory_xact_lock(7103512905)";

// Asks all stations to delete the event and deletes it on the server at once; each station obeys at
// its next merge, this one by calling Sync. server: null for a station that works alone, which is
// then deleted at once. by: who asks, for the others to see. kNotFound: no such event here.
[[nodiscard]] Result<void> AskToDelete(EventStore& store, const EventDatabase* server,
                                       const Uuid& event, const std::string& by);

// Deletes what this station holds, the event's key with it, and then looks for it: no row, and
// neither the key nor one of the ids of its children anywhere in the file or beside it.
// kUnavailable when another window has the file open, kMismatch when something was found all the
// same. Returns the number of records deleted.
[[nodiscard]] Result<int> DeleteHere(EventStore& store, const Uuid& event);

struct DeletedAt {
  Uuid station;
  std::string name;
  std::string done_at;  // UTC; empty: not confirmed yet
  int records = 0;
};
// Every station that may hold a copy: each that ever merged with that server. Deleted everywhere
// means that none is without done_at. Empty: nobody asked to delete this event.
[[nodiscard]] Result<std::vector<DeletedAt>> WhereDeleted(const EventDatabase& database,
                                                          const Uuid& event);

// Records of the event that lay unsealed on the server when it was deleted there, from an older
// version: its files may hold their remains until its folder is erased. 0 where all were sealed.
[[nodiscard]] Result<int> UnsealedOnServer(const EventDatabase& database, const Uuid& event);

// The events that are being deleted, as this database knows them, newest first.
[[nodiscard]] Result<std::vector<Uuid>> Deletions(const EventDatabase& database);

// A part of Sync: what the organiser asked for is done here, and confirmed on the server.
[[nodiscard]] Result<void> ObeyDeletions(EventStore& store, const EventDatabase& server,
                                         SyncReport& report);

}  // namespace nearpoint
