#include "app/store/migrations.h"

namespace nearpoint {

// Times of day are UTC in ISO 8601; times within a session are milliseconds on the clock of its
// frames; lengths are millimetres from the corneal plane. A trial is written once and never
// changed.
const std::vector<Migration>& AllMigrations() {
  // One statement goes over several lines. NOLINTBEGIN(bugprone-suspicious-missing-comma)
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
      {"exercise: plans, sessions and attempts",
       {
           "CREATE TABLE exercise_plan (id INTEGER PRIMARY KEY,"
           " person INTEGER REFERENCES person(id) ON DELETE CASCADE,"
           " set_at TEXT NOT NULL, plan_json TEXT NOT NULL)",
           "CREATE INDEX exercise_plan_of ON exercise_plan(person, id)",
           // day: of the local calendar, since a diary is kept by days; NULL comfort: not asked.
           "CREATE TABLE exercise_session (id INTEGER PRIMARY KEY,"
           " person INTEGER REFERENCES person(id) ON DELETE CASCADE,"
           " day TEXT NOT NULL, started_at TEXT NOT NULL, ended_at TEXT,"
           " practice INTEGER NOT NULL, plan_json TEXT NOT NULL, level INTEGER NOT NULL,"
           " pupils_mm REAL NOT NULL, pupils_sd_mm REAL NOT NULL, screen_sd_mm REAL NOT NULL,"
           " mm_per_dot REAL NOT NULL, comfort TEXT)",
           "CREATE INDEX exercise_session_of ON exercise_session(person, id)",
           "CREATE TABLE exercise_attempt ("
           "session INTEGER NOT NULL REFERENCES exercise_session(id) ON DELETE CASCADE,"
           " number INTEGER NOT NULL CHECK (number >= 1), stored_at TEXT NOT NULL,"
           " start_ms REAL NOT NULL, end_ms REAL NOT NULL, separation_mm REAL NOT NULL,"
           " asked_mm REAL NOT NULL, why TEXT, held_s REAL NOT NULL, fusing_s REAL,"
           " reach_mm REAL, reach_sd_mm REAL, reach_shared_sd_mm REAL, eye TEXT,"
           " PRIMARY KEY (session, number)) WITHOUT ROWID",
       }},
      {"pictures of the eyes at break and recovery, of those who agreed to it",
       {
           "CREATE TABLE eye_picture (session INTEGER NOT NULL, trial INTEGER NOT NULL,"
           " moment TEXT NOT NULL, jpeg BLOB NOT NULL, PRIMARY KEY (session, trial, moment),"
           " FOREIGN KEY (session, trial) REFERENCES trial(session, number) ON DELETE CASCADE)",
       }},
      {"answers to the questions before measuring and exercising, and who was asked after trouble",
       {
           "CREATE TABLE safety_answer (id INTEGER PRIMARY KEY,"
           " person INTEGER REFERENCES person(id) ON DELETE CASCADE,"
           " given_at TEXT NOT NULL, kind TEXT NOT NULL, answers_json TEXT NOT NULL)",
           "CREATE INDEX safety_answer_of ON safety_answer(person, kind, id)",
           // last_session, last_exercise: the person's newest then; what is newer was not meant.
           "CREATE TABLE asked_whom (id INTEGER PRIMARY KEY,"
           " person INTEGER REFERENCES person(id) ON DELETE CASCADE,"
           " said_at TEXT NOT NULL, whom TEXT NOT NULL, last_session INTEGER NOT NULL,"
           " last_exercise INTEGER NOT NULL)",
           "CREATE INDEX asked_whom_of ON asked_whom(person, id)",
       }},
      {"what the eyes say of a trial, for a session that goes on later",
       {
           // NULL: written before this version.
           "ALTER TABLE trial ADD COLUMN eyes_json TEXT",
       }},
  };
  // NOLINTEND(bugprone-suspicious-missing-comma)
  return migrations;
}

}  // namespace nearpoint
