#include "app/store/migrations.h"

namespace nearpoint {

// Times of day are UTC in ISO 8601; times within a session are milliseconds on the clock of its
// frames; lengths are millimetres from the corneal plane. A trial is written once and never
// changed.
const std::vector<Migration>& AllMigrations() {
  static const std::vector<Migration> migrations{
      {"people, their calibration, sessions and trials",
       {
           "CREATE TABLE person (id INTEGER PRIMARY KEY, name TEXT NOT NULL, birth_year INTEGER,"
           " with_adult INTEGER NOT NULL DEFAULT 0, created_at TEXT NOT NULL)",
           "CREATE TABLE setting (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID",
           "CREATE TABLE calibration (id INTEGER PRIMARY KEY,"
           " person INTEGER NOT NULL REFERENCES person(id) ON DELETE CASCADE,"
           " made_at TEXT NOT NULL, profile_json TEXT NOT NULL)",
           "CREATE INDEX calibration_of ON calibration(person, id)",
           "CREATE TABLE session (id INTEGER PRIMARY KEY,"
           " person INTEGER REFERENCES person(id) ON DELETE CASCADE,"
           " started_at TEXT NOT NULL, ended_at TEXT, practice INTEGER NOT NULL,"
           " source TEXT NOT NULL, profile_json TEXT NOT NULL, norm TEXT NOT NULL,"
           " target TEXT NOT NULL, shared_relative_sd REAL NOT NULL DEFAULT 0,"
           " shared_offset_sd_mm REAL NOT NULL DEFAULT 0, comfort TEXT, session_json TEXT)",
           "CREATE INDEX session_of ON session(person, id)",
           "CREATE TABLE trial (session INTEGER NOT NULL REFERENCES session(id) ON DELETE CASCADE,"
           " number INTEGER NOT NULL CHECK (number >= 1), stored_at TEXT NOT NULL,"
           " trial_json TEXT NOT NULL, set_aside TEXT, events_jsonl TEXT NOT NULL,"
           " track_z BLOB NOT NULL, PRIMARY KEY (session, number)) WITHOUT ROWID",
       }},
  };
  return migrations;
}

}  // namespace nearpoint
