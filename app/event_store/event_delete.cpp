#include "app/event_store/event_delete.h"

#include <QFile>
#include <algorithm>
#include <string_view>
#include <unordered_set>

#include "app/event_store/event_keys.h"

namespace nearpoint {
namespace {

QString ToQt(const std::string& text) { return QString::fromStdString(text); }

Result<void> DeleteRows(const EventDatabase& database, const QString& event) {
  // The sessions go with their records.
  const auto gone = database.Run("DELETE FROM record WHERE event = ?", {event});
  if (!gone) return tl::unexpected(gone.error());
  return DestroyKeys(database, event);
}

Result<void> NoteDeletion(const EventDatabase& database, const QString& event,
                          const QString& asked_at, const QString& by) {
  const auto noted = database.Run(
      "INSERT INTO deletion (event, asked_at, asked_by) VALUES (?, ?, ?)"
      " ON CONFLICT (event) DO NOTHING",
      {event, asked_at, by});
  if (!noted) return tl::unexpected(noted.error());
  return {};
}

// Whether one of these ids (36 characters, as a UUID is printed) stands in the bytes.
bool Holds(std::string_view bytes, const std::unordered_set<std::string_view>& ids) {
  constexpr std::size_t kLength = 36;
  for (std::size_t at = bytes.find('-'); at != std::string_view::npos;
       at = bytes.find('-', at + 1)) {
    constexpr std::size_t kFirstHyphen = 8;
    if (at < kFirstHyphen || at - kFirstHyphen + kLength > bytes.size()) continue;
    if (ids.contains(bytes.substr(at - kFirstHyphen, kLength))) return true;
  }
  return false;
}

Result<void> LookForTraces(const EventStore& store, const std::vector<std::string>& ids,
                           const std::vector<std::string>& secrets) {
  const std::unordered_set<std::string_view> wanted(ids.begin(), ids.end());
  for (const char* suffix : {"", "-wal", "-journal"}) {
    QFile file(store.database().place() + suffix);
    if (!file.exists()) continue;
    if (!file.open(QIODevice::ReadOnly)) {
      return Fail(ErrorCode::kUnreadable,
                  file.fileName().toStdString() + ": cannot be looked through.");
    }
    const QByteArray bytes = file.readAll();
    const bool secret = std::ranges::any_of(secrets, [&](const std::string& text) {
      return bytes.contains(QByteArray::fromStdString(text));
    });
    if (secret || Holds({bytes.constData(), static_cast<std::size_t>(bytes.size())}, wanted)) {
      return Fail(ErrorCode::kMismatch,
                  file.fileName().toStdString() +
                      ": traces of deleted children are still in this file; close every window of "
                      "this program and delete again.");
    }
  }
  return {};
}

Result<void> Confirm(const EventDatabase& database, const QString& event, const QString& station,
                     const QString& at, int records) {
  const auto confirmed = database.Run(
      "INSERT INTO deletion_at (event, station, done_at, records) VALUES (?, ?, ?, ?)"
      " ON CONFLICT (event, station) DO UPDATE SET done_at = excluded.done_at,"
      " records = excluded.records",
      {event, station, at, records});
  if (!confirmed) return tl::unexpected(confirmed.error());
  return {};
}

Result<int> Count(const EventDatabase& database, const QString& statement,
                  const QVariantList& values) {
  auto query = database.Run(statement, values);
  if (!query) return tl::unexpected(query.error());
  return query->next() ? query->value(0).toInt() : 0;
}

Result<void> DeleteOnServer(const EventDatabase& server, const QString& event, const QString& at,
                            const QString& by) {
  auto done = server.InTransaction([&]() -> Result<void> {
    if (server.server()) {
      if (auto locked = server.Run(kDeletionLock); !locked) return tl::unexpected(locked.error());
    }
    if (auto noted = NoteDeletion(server, event, at, by); !noted) return noted;
    const auto listed = server.Run(
        "INSERT INTO deletion_at (event, station, done_at, records)"
        " SELECT CAST(? AS TEXT), uuid, '', 0 FROM station WHERE TRUE"
        " ON CONFLICT (event, station) DO NOTHING",
        {event});
    if (!listed) return tl::unexpected(listed.error());
    const auto unsealed =
        server.Run(QString("UPDATE deletion SET unsealed = unsealed + (SELECT COUNT(*) FROM record"
                           " WHERE event = ? AND body NOT LIKE '%1%') WHERE event = ?")
                       .arg(QString::fromUtf8(kSealedMark.data())),
                   {event, event});
    if (!unsealed) return tl::unexpected(unsealed.error());
    return DeleteRows(server, event);
  });
  if (!done) return done;
  // Rows that are deleted stay in PostgreSQL's files until they are rewritten.
  for (const char* statement :
       {"VACUUM FULL session_text", "VACUUM FULL record", "VACUUM FULL key_for"}) {
    if (!server.server()) break;
    if (auto clean = server.Run(statement); !clean) return tl::unexpected(clean.error());
  }
  return {};
}

}  // namespace

Result<int> DeleteHere(EventStore& store, const Uuid& event) {
  const EventDatabase& database = store.database();
  std::vector<std::string> ids;
  {
    auto query = database.Run("SELECT uuid, child FROM record WHERE event = ?", {ToQt(event)});
    if (!query) return tl::unexpected(query.error());
    while (query->next()) {
      ids.push_back(query->value(0).toString().toStdString());
      if (const QString child = query->value(1).toString(); !child.isEmpty()) {
        ids.push_back(child.toStdString());
      }
    }
  }
  std::vector<std::string> secrets;
  {
    auto query = database.Run("SELECT secret FROM event_key WHERE event = ?", {ToQt(event)});
    if (!query) return tl::unexpected(query.error());
    while (query->next()) secrets.push_back(query->value(0).toString().toStdString());
    const std::string own = store.Setting("secret_key").toStdString();
    if (!own.empty()) secrets.push_back(own);
  }
  auto records = Count(database, "SELECT COUNT(*) FROM record WHERE event = ?", {ToQt(event)});
  if (!records) return records;
  const auto done = database.InTransaction([&]() -> Result<void> {
    if (auto noted = NoteDeletion(database, ToQt(event), store.Now(), ""); !noted) return noted;
    if (auto gone = DeleteRows(database, ToQt(event)); !gone) return gone;
    // Who measured here was a part of it.
    const auto volunteer = database.Run(
        "DELETE FROM own WHERE name = 'volunteer' AND NOT EXISTS (SELECT 1 FROM record)");
    if (!volunteer) return tl::unexpected(volunteer.error());
    return {};
  });
  if (!done) return tl::unexpected(done.error());
  for (const char* statement :
       {"PRAGMA wal_checkpoint(TRUNCATE)", "VACUUM", "PRAGMA wal_checkpoint(TRUNCATE)"}) {
    auto clean = database.Run(statement);
    if (!clean) return tl::unexpected(clean.error());
    // A checkpoint that somebody else's reading held up says so in a row and not as an error; the
    // log beside the file would then still hold what was deleted.
    const bool held_up = clean->next() && clean->value(0).toInt() != 0;
    clean->finish();
    if (held_up) {
      return Fail(
          ErrorCode::kUnavailable,
          database.place().toStdString() +
              ": another window of this program is reading it; deleting goes on at the next "
              "merge.");
    }
  }
  if (auto clean = LookForTraces(store, ids, secrets); !clean) return tl::unexpected(clean.error());
  const auto confirmed =
      Confirm(database, ToQt(event), ToQt(store.station()), store.Now(), *records);
  if (!confirmed) return tl::unexpected(confirmed.error());
  return *records;
}

Result<void> AskToDelete(EventStore& store, const EventDatabase* server, const Uuid& event,
                         const std::string& by) {
  const auto here =
      Count(store.database(), "SELECT COUNT(*) FROM record WHERE event = ?", {ToQt(event)});
  if (!here) return tl::unexpected(here.error());
  if (*here == 0) return Fail(ErrorCode::kNotFound, "This event is not on this computer.");
  if (server != nullptr) return DeleteOnServer(*server, ToQt(event), store.Now(), ToQt(by));
  const auto deleted = DeleteHere(store, event);
  if (!deleted) return tl::unexpected(deleted.error());
  return {};
}

Result<std::vector<DeletedAt>> WhereDeleted(const EventDatabase& database, const Uuid& event) {
  auto query = database.Run(
      "SELECT deletion_at.station, COALESCE(station.name, ''), done_at, records FROM deletion_at"
      " LEFT JOIN station ON station.uuid = deletion_at.station WHERE event = ?"
      " ORDER BY station.name, deletion_at.station",
      {ToQt(event)});
  if (!query) return tl::unexpected(query.error());
  std::vector<DeletedAt> places;
  while (query->next()) {
    places.push_back({query->value(0).toString().toStdString(),
                      query->value(1).toString().toStdString(),
                      query->value(2).toString().toStdString(), query->value(3).toInt()});
  }
  return places;
}

Result<int> UnsealedOnServer(const EventDatabase& database, const Uuid& event) {
  return Count(database, "SELECT unsealed FROM deletion WHERE event = ?", {ToQt(event)});
}

Result<std::vector<Uuid>> Deletions(const EventDatabase& database) {
  auto query = database.Run("SELECT event FROM deletion ORDER BY asked_at DESC");
  if (!query) return tl::unexpected(query.error());
  std::vector<Uuid> events;
  while (query->next()) events.push_back(query->value(0).toString().toStdString());
  return events;
}

Result<void> ObeyDeletions(EventStore& store, const EventDatabase& server, SyncReport& report) {
  const QString station = ToQt(store.station());
  std::vector<std::pair<QString, QString>> asked;
  {
    auto query = server.Run("SELECT event, asked_by FROM deletion");
    if (!query) return tl::unexpected(query.error());
    while (query->next()) {
      asked.emplace_back(query->value(0).toString(), query->value(1).toString());
    }
  }
  for (const auto& [event, by] : asked) {
    const auto confirmed =
        Count(server,
              "SELECT COUNT(*) FROM deletion_at WHERE event = ? AND station = ? AND done_at <> ''",
              {event, station});
    if (!confirmed) return tl::unexpected(confirmed.error());
    if (*confirmed > 0) continue;
    const auto unsent = Count(
        store.database(), "SELECT COUNT(*) FROM record WHERE event = ? AND station = ? AND seq > ?",
        {event, station, store.Setting("sent", "0").toLongLong()});
    if (!unsent) return tl::unexpected(unsent.error());
    if (*unsent > 0) {
      // Nobody has seen these: they are not thrown away unasked, nor sent on.
      if (auto noted = NoteDeletion(store.database(), event, store.Now(), by); !noted) {
        return noted;
      }
      // Nobody may read "deleted everywhere" while they are here.
      const auto listed = server.Run(
          "INSERT INTO deletion_at (event, station, done_at, records) VALUES (?, ?, '', 0)"
          " ON CONFLICT (event, station) DO NOTHING",
          {event, station});
      if (!listed) return tl::unexpected(listed.error());
      if (std::ranges::find(report.held, event.toStdString()) == report.held.end()) {
        report.held.push_back(event.toStdString());
      }
      continue;
    }
    const auto deleted = DeleteHere(store, event.toStdString());
    if (!deleted) return tl::unexpected(deleted.error());
    if (auto done = Confirm(server, event, station, store.Now(), *deleted); !done) return done;
    report.deleted.push_back(event.toStdString());
  }
  return {};
}

}  // namespace nearpoint
