// What the home program remembers: people, their calibration, sessions and trials. Every call is on
// disk when it returns.
#pragma once

#include <QDateTime>
#include <QString>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/events.h"
#include "app/measure/trial.h"
#include "app/records/session_json.h"
#include "app/store/database.h"
#include "vision/core/distance_sample.h"
#include "vision/core/result.h"

namespace nearpoint {

using RowId = qint64;

struct Person {
  RowId id = 0;
  QString name;                   // as they call themselves; never leaves the machine by itself
  std::optional<int> birth_year;  // decides the published limit; may stay unsaid
};

// How a session came about; fixed when it begins.
struct SessionSetup {
  RowId person = 0;       // 0: nobody said a name, as in a first practice
  bool practice = false;  // the simulated patient: never counts as a measurement
  QString source;         // description of the frame source
  std::string profile_json;
  QString norm;    // id of app/measure/norms.h
  QString target;  // "printed" or "screen"
};

struct HomeSession {
  RowId id = 0;
  SessionSetup setup;
  QDateTime started_at;               // UTC
  std::optional<QDateTime> ended_at;  // absent: never ended in order
  QString comfort;                    // "", "fine", "tired", "discomfort", "double"
  std::string session_json;           // SESSION.json as it stands; empty before the first trial
  int trials = 0;
  int counted = 0;  // of them, by the rules at the time
};

// One trial with all that it rests on.
struct StoredTrial {
  Trial trial;
  TrialEyes eyes;
  std::vector<Event> events;
  std::string track_jsonl;  // schema nearpoint/track/1, a line a frame
};

class Store {
 public:
  // The clock gives the time of day; tests give their own.
  [[nodiscard]] static Result<Store> Open(
      const QString& file, std::function<QDateTime()> clock = QDateTime::currentDateTimeUtc);

  // Small values of the program itself: language, text size, camera.
  [[nodiscard]] QString Setting(const QString& key, const QString& otherwise = QString()) const;
  Result<void> SetSetting(const QString& key, const QString& value);

  [[nodiscard]] Result<Person> AddPerson(const Person& person);
  Result<void> UpdatePerson(const Person& person);
  [[nodiscard]] Result<std::vector<Person>> People() const;
  [[nodiscard]] Result<Person> FindPerson(RowId id) const;

  Result<void> AddCalibration(RowId person, const std::string& profile_json);
  // The newest, with the time it was made; nullopt without one.
  struct Calibration {
    QDateTime made_at;
    std::string profile_json;
  };
  [[nodiscard]] Result<std::optional<Calibration>> LatestCalibration(RowId person) const;

  [[nodiscard]] Result<RowId> BeginSession(const SessionSetup& setup);
  // The trial and what the session now says, together or not at all. kBadValue if that number is
  // there already (two windows on one session).
  Result<void> AddTrial(RowId session, const StoredTrial& trial, const SharedCalibration& shared,
                        const std::string& session_json);
  Result<void> EndSession(RowId session, const QString& comfort);

  [[nodiscard]] Result<std::vector<HomeSession>> Sessions(RowId person) const;  // newest first
  [[nodiscard]] Result<HomeSession> FindSession(RowId id) const;
  // The newest session of the last hours that was never ended and has trials: one to go on with.
  [[nodiscard]] Result<std::optional<HomeSession>> Unfinished(RowId person) const;
  [[nodiscard]] Result<std::vector<StoredTrial>> Trials(RowId session) const;  // by number
  [[nodiscard]] Result<SharedCalibration> SharedOfSession(RowId session) const;

  [[nodiscard]] const Database& database() const { return database_; }
  [[nodiscard]] QDateTime Now() const { return clock_(); }

 private:
  Store(Database database, std::function<QDateTime()> clock);
  Database database_;
  std::function<QDateTime()> clock_;
};

}  // namespace nearpoint
