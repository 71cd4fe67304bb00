#include "app/clinic_store/clinic_schema.h"

namespace nearpoint {

// Times of day are UTC in ISO 8601, "day" columns days since 1970 of the local calendar. What was
// received is written once and never changed; a review stands beside it. Everything of a person
// goes with the person.
const std::vector<Migration>& ClinicMigrations() {
  // One statement goes over several lines. NOLINTBEGIN(bugprone-suspicious-missing-comma)
  static const std::vector<Migration> migrations{
      {"people, what was received of them, reviews, findings and plans",
       {
           "CREATE TABLE clinic_setting (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID",
           // From sessions to high_score_day: what the list needs, made anew from the other tables
           // whenever something of this patient comes or is reviewed.
           "CREATE TABLE patient (id INTEGER PRIMARY KEY, name TEXT NOT NULL,"
           " number TEXT NOT NULL DEFAULT '', birth_year INTEGER, created_at TEXT NOT NULL,"
           " sessions INTEGER NOT NULL DEFAULT 0, newest_json TEXT,"
           " session_reasons INTEGER NOT NULL DEFAULT 0, plan_json TEXT, last_exercise TEXT,"
           " last_comfort TEXT, last_comfort_day TEXT, high_score_day TEXT, seen_day TEXT)",
           // One device may be used by several people of a family, each under a name of their own.
           "CREATE TABLE device (card TEXT NOT NULL, said TEXT NOT NULL,"
           " patient INTEGER NOT NULL REFERENCES patient(id) ON DELETE CASCADE,"
           " matched_at TEXT NOT NULL, PRIMARY KEY (card, said)) WITHOUT ROWID",
           // content: the package, compressed, until it is matched to a patient.
           "CREATE TABLE package (id TEXT PRIMARY KEY, card TEXT NOT NULL, said TEXT NOT NULL,"
           " made_at TEXT NOT NULL, received_at TEXT NOT NULL, sealed_hash TEXT NOT NULL,"
           " patient INTEGER REFERENCES patient(id) ON DELETE CASCADE, content BLOB)"
           " WITHOUT ROWID",
           "CREATE INDEX package_of ON package(patient)",
           "CREATE TABLE measurement (id INTEGER PRIMARY KEY,"
           " patient INTEGER NOT NULL REFERENCES patient(id) ON DELETE CASCADE,"
           " package TEXT NOT NULL, name TEXT NOT NULL, hash TEXT NOT NULL, day REAL NOT NULL,"
           " received_at TEXT NOT NULL, text_z BLOB NOT NULL, review TEXT NOT NULL DEFAULT '',"
           " digest TEXT NOT NULL, UNIQUE (patient, hash))",
           "CREATE INDEX measurement_of ON measurement(patient, day)",
           "CREATE TABLE track (measurement INTEGER NOT NULL"
           " REFERENCES measurement(id) ON DELETE CASCADE, trial INTEGER NOT NULL,"
           " track_z BLOB NOT NULL, PRIMARY KEY (measurement, trial)) WITHOUT ROWID",
           "CREATE TABLE exercise_days (patient INTEGER NOT NULL"
           " REFERENCES patient(id) ON DELETE CASCADE, card TEXT NOT NULL,"
           " received_at TEXT NOT NULL, text TEXT NOT NULL, PRIMARY KEY (patient, card))"
           " WITHOUT ROWID",
           "CREATE TABLE finding (id INTEGER PRIMARY KEY,"
           " patient INTEGER NOT NULL REFERENCES patient(id) ON DELETE CASCADE,"
           " at TEXT NOT NULL, by TEXT NOT NULL, context_json TEXT NOT NULL,"
           " words TEXT NOT NULL DEFAULT '')",
           "CREATE INDEX finding_of ON finding(patient, id)",
           "CREATE TABLE plan (id INTEGER PRIMARY KEY,"
           " patient INTEGER NOT NULL REFERENCES patient(id) ON DELETE CASCADE,"
           " at TEXT NOT NULL, by TEXT NOT NULL, plan_json TEXT NOT NULL)",
           "CREATE INDEX plan_of ON plan(patient, id)",
           // What a record server has taken, in which state of its review.
           "CREATE TABLE pushed (measurement INTEGER NOT NULL"
           " REFERENCES measurement(id) ON DELETE CASCADE, server TEXT NOT NULL,"
           " state TEXT NOT NULL, at TEXT NOT NULL, PRIMARY KEY (measurement, server, state))"
           " WITHOUT ROWID",
           // No reference to patient: that somebody was deleted stays on record, who it was does
           // not.
           "CREATE TABLE journal (number INTEGER PRIMARY KEY, at TEXT NOT NULL, by TEXT NOT NULL,"
           " act TEXT NOT NULL, patient INTEGER NOT NULL, object TEXT NOT NULL,"
           " previous TEXT NOT NULL, hash TEXT NOT NULL)",
       }},
      {"pictures of the eyes at break and recovery, of those who sent them",
       {
           "CREATE TABLE eye_picture (measurement INTEGER NOT NULL"
           " REFERENCES measurement(id) ON DELETE CASCADE, trial INTEGER NOT NULL,"
           " moment TEXT NOT NULL, jpeg BLOB NOT NULL, PRIMARY KEY (measurement, trial, moment))",
       }},
  };
  // NOLINTEND(bugprone-suspicious-missing-comma)
  return migrations;
}

}  // namespace nearpoint
