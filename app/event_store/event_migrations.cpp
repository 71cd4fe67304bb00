#include "app/event_store/event_migrations.h"

namespace nearpoint {

// Times are UTC in ISO 8601. The rows of record and session_text are written once and never
// changed; they go only when their event is deleted.
const std::vector<EventMigration>& AllEventMigrations() {
  // One statement goes over several lines. NOLINTBEGIN(bugprone-suspicious-missing-comma)
  static const std::vector<EventMigration> migrations{
      {"records, what was measured, stations and deletions",
       {
           "CREATE TABLE record (uuid TEXT PRIMARY KEY, event TEXT NOT NULL, child TEXT NOT NULL,"
           " station TEXT NOT NULL, seq BIGINT NOT NULL CHECK (seq >= 1), tick BIGINT NOT NULL,"
           " at TEXT NOT NULL, volunteer TEXT NOT NULL, kind TEXT NOT NULL, body TEXT NOT NULL,"
           " UNIQUE (station, seq))",
           "CREATE INDEX record_of ON record(event)",
           "CREATE TABLE session_text (record TEXT PRIMARY KEY REFERENCES record(uuid)"
           " ON DELETE CASCADE, body TEXT NOT NULL)",
           // written: the newest seq that the station had made when it was last here.
           "CREATE TABLE station (uuid TEXT PRIMARY KEY, name TEXT NOT NULL, seen_at TEXT NOT NULL,"
           " written BIGINT NOT NULL)",
           "CREATE TABLE deletion (event TEXT PRIMARY KEY, asked_at TEXT NOT NULL,"
           " asked_by TEXT NOT NULL)",
           // A row for each station that may hold a copy; done_at empty: not confirmed yet.
           "CREATE TABLE deletion_at (event TEXT NOT NULL, station TEXT NOT NULL,"
           " done_at TEXT NOT NULL, records BIGINT NOT NULL, PRIMARY KEY (event, station))",
           // Of this file alone: its station, its counters, the address of its server.
           "CREATE TABLE own (name TEXT PRIMARY KEY, value TEXT NOT NULL)",
       }},
      {"keys: what the server holds is sealed",
       {
           // Of this file alone: the keys of the events that this station can open.
           "CREATE TABLE event_key (event TEXT PRIMARY KEY, secret TEXT NOT NULL)",
           // A key on its way to a station, sealed for the public key that it had.
           "CREATE TABLE key_for (event TEXT NOT NULL, station TEXT NOT NULL,"
           " public_key TEXT NOT NULL, sealed TEXT NOT NULL, PRIMARY KEY (event, station))",
           "ALTER TABLE station ADD COLUMN public_key TEXT NOT NULL DEFAULT ''",
           // Records that an older version had handed over unsealed.
           "ALTER TABLE deletion ADD COLUMN unsealed BIGINT NOT NULL DEFAULT 0",
       }},
  };
  // NOLINTEND(bugprone-suspicious-missing-comma)
  return migrations;
}

}  // namespace nearpoint
