// What stands in the home's file and is never to change again, each with a digest of all its
// columns: what must be there after a kill, exactly so.
#pragma once

#include <QCryptographicHash>
#include <QSqlRecord>
#include <map>
#include <string>

#include "app/store/store.h"

namespace nearpoint {

// "trial 3 2" (session and number) -> digest. since: the first session, of each kind, to look at.
inline std::map<std::string, std::string> DigestOf(const Store& store, RowId since_session = 0,
                                                   RowId since_exercise = 0) {
  std::map<std::string, std::string> all;
  const auto add = [&](const char* kind, const QString& select, int keys, RowId since) {
    auto query = store.database().Run(select, {since});
    while (query && query->next()) {
      std::string key = kind;
      QCryptographicHash hash(QCryptographicHash::Md5);
      for (int i = 0; i < query->record().count(); ++i) {
        const QByteArray value = query->value(i).toByteArray();
        if (i < keys) key += " " + value.toStdString();
        hash.addData(QByteArray::number(value.size()) + ':' + value);
      }
      all[key] = hash.result().toHex().toStdString();
    }
  };
  add("person", "SELECT id, name, birth_year, created_at FROM person WHERE id > ?", 1, 0);
  add("trial",
      "SELECT session, number, stored_at, trial_json, set_aside, events_jsonl, track_z FROM trial "
      "WHERE session >= ?",
      2, since_session);
  add("ended",
      "SELECT id, started_at, ended_at, comfort, session_json, practice FROM session "
      "WHERE ended_at IS NOT NULL AND id >= ?",
      1, since_session);
  add("attempt", "SELECT * FROM exercise_attempt WHERE session >= ?", 2, since_exercise);
  add("exercised",
      "SELECT * FROM exercise_session WHERE ended_at IS NOT NULL AND comfort IS NOT NULL "
      "AND id >= ?",
      1, since_exercise);
  return all;
}

// The newest session, and the newest exercise session; 0 without one.
inline RowId NewestOf(const Store& store, const char* table) {
  auto query = store.database().Run(QString("SELECT max(id) FROM %1").arg(table));
  return query && query->next() ? query->value(0).toLongLong() : 0;
}

}  // namespace nearpoint
