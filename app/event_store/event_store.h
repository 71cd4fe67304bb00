// What one station holds of its events: its own records and those of the others that reached it.
// Everything is written here first, whether the server can be reached or not.
#pragma once

#include <QDateTime>
#include <QString>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/event/event_state.h"
#include "app/event_store/event_database.h"

namespace nearpoint {

struct NewRecord {
  Uuid child;  // empty where the record is of none
  RecordBody body;
  std::string session_json;  // with a measurement: SESSION.json; may be empty
};

[[nodiscard]] Uuid MakeUuid();

class EventStore {
 public:
  // The clock gives the time of day; tests give their own. A station's identity is drawn when the
  // file is made and stays with it.
  [[nodiscard]] static Result<EventStore> Open(
      const QString& file, std::function<QDateTime()> clock = QDateTime::currentDateTimeUtc);

  [[nodiscard]] const Uuid& station() const { return station_; }
  // Small values of this station: "name", "server", "event", "volunteer".
  [[nodiscard]] QString Setting(const QString& name, const QString& otherwise = QString()) const;
  Result<void> SetSetting(const QString& name, const QString& value);

  // All of them or none; on disk when it returns. kMismatch: the event is being deleted.
  [[nodiscard]] Result<std::vector<EventRecord>> Append(const Uuid& event,
                                                        const std::vector<NewRecord>& records);

  struct Listed {
    Uuid event;
    EventOpened what;
  };
  // Newest first; those that are still locked (event_keys.h) are not among them.
  [[nodiscard]] Result<std::vector<Listed>> Events() const;
  [[nodiscard]] int LockedEvents() const;
  // Every record of the event. kUnreadable, kMismatch (of a newer version), kUnavailable (locked).
  [[nodiscard]] Result<std::vector<EventRecord>> Records(const Uuid& event) const;
  [[nodiscard]] Result<EventState> State(const Uuid& event) const;
  // SESSION.json of a measurement; empty where none was kept.
  [[nodiscard]] Result<std::string> SessionText(const Uuid& measurement) const;
  // Rises with every record that is written or arrives: whether a state is out of date.
  [[nodiscard]] Result<qint64> Count() const;

  [[nodiscard]] const EventDatabase& database() const { return database_; }
  [[nodiscard]] QString Now() const;  // as the tables have it

 private:
  EventStore(EventDatabase database, std::function<QDateTime()> clock);
  [[nodiscard]] Result<void> Identify();
  [[nodiscard]] Result<qint64> Counter(const QString& name) const;

  EventDatabase database_;
  std::function<QDateTime()> clock_;
  Uuid station_;
};

// Columns of a record in the order of RecordRow and ReadRecord.
inline constexpr const char* kRecordColumns =
    "uuid, event, child, station, seq, tick, at, volunteer, kind, body";
inline constexpr const char* kInsertRecord =
    "INSERT INTO record (uuid, event, child, station, seq, tick, at, volunteer, kind, body)"
    " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (uuid) DO NOTHING";
inline constexpr const char* kInsertSession =
    "INSERT INTO session_text (record, body) VALUES (?, ?) ON CONFLICT (record) DO NOTHING";

}  // namespace nearpoint
