#include "app/event_store/event_sync.h"

#include <QSqlQuery>
#include <algorithm>
#include <map>

#include "app/event_store/event_delete.h"
#include "app/event_store/event_keys.h"
#include "app/event_store/event_server.h"

namespace nearpoint {
namespace {

using Newest = std::map<QString, qint64>;  // of each station

Result<Newest> NewestOf(const EventDatabase& database) {
  auto query = database.Run("SELECT station, MAX(seq) FROM record GROUP BY station");
  if (!query) return tl::unexpected(query.error());
  Newest newest;
  while (query->next()) newest[query->value(0).toString()] = query->value(1).toLongLong();
  return newest;
}

struct Batch {
  std::vector<QVariantList> records, sessions;
  Newest last;  // of each station, up to where the batch brings it
};

enum class Way { kSeal, kOpen };

// What `from` has above `known`, sealed or opened. A record that cannot be sealed holds back those
// of its station that come after it, so that no gap arises.
Result<Batch> Above(const EventDatabase& from, const Newest& known, Way way,
                    const EventKeys& keys) {
  const auto newest = NewestOf(from);
  if (!newest) return tl::unexpected(newest.error());
  Batch batch;
  for (const auto& [station, newest_there] : *newest) {
    qint64 last = newest_there;
    const auto at = known.find(station);
    const qint64 first = at == known.end() ? 0 : at->second;
    if (first >= last) continue;
    // In the order they were written, and never of an event that is being deleted.
    // Up to `last`: a record that is being written just now waits, together with its session.
    const QString where =
        " WHERE station = ? AND seq > ? AND seq <= ?"
        " AND event NOT IN (SELECT event FROM deletion)";
    const QVariantList values{station, first, last};
    auto records = from.Run(
        QString("SELECT %1 FROM record").arg(kRecordColumns) + where + " ORDER BY seq", values);
    if (!records) return tl::unexpected(records.error());
    while (records->next()) {
      QVariantList row;
      for (int i = 0; i < 10; ++i) row.push_back(records->value(i));
      const qint64 seq = row[4].toLongLong();
      const auto fine = way == Way::kSeal ? SealRecord(row, keys) : OpenRecord(row, keys);
      if (!fine) return tl::unexpected(fine.error());
      if (!*fine && way == Way::kSeal) {
        last = seq - 1;
        break;
      }
      batch.records.push_back(std::move(row));
    }
    records->finish();
    batch.last[station] = last;
    auto sessions = from.Run(
        "SELECT record, session_text.body, event FROM session_text JOIN record ON uuid = record" +
            where,
        {station, first, last});
    if (!sessions) return tl::unexpected(sessions.error());
    while (sessions->next()) {
      QVariant body = sessions->value(1);
      const QString record = sessions->value(0).toString();
      const QString event = sessions->value(2).toString();
      const auto fine = way == Way::kSeal ? SealSession(body, record, event, keys)
                                          : OpenSession(body, record, event, keys);
      if (!fine) return tl::unexpected(fine.error());
      batch.sessions.push_back({record, body});
    }
  }
  return batch;
}

Result<void> Put(const EventDatabase& into, const Batch& batch) {
  if (auto put = into.RunEach(kInsertRecord, batch.records); !put) return put;
  return into.RunEach(kInsertSession, batch.sessions);
}

// One direction: what `into` lacks of `from`, in one transaction of `into`. Both are read before
// it, so that a slow network holds no lock; what arrived in the meantime is left alone by the
// insert.
Result<Batch> HandOver(const EventDatabase& from, const EventDatabase& into, Way way,
                       const EventKeys& keys) {
  const auto known = NewestOf(into);
  if (!known) return tl::unexpected(known.error());
  auto batch = Above(from, *known, way, keys);
  if (!batch || batch->records.empty()) return batch;
  const auto done = into.InTransaction([&]() -> Result<void> {
    if (into.server()) {
      if (auto locked = into.Run(kDeletionLock); !locked) return tl::unexpected(locked.error());
    }
    if (auto put = Put(into, *batch); !put) return put;
    // A deletion that was asked for since.
    const auto gone = into.Run("DELETE FROM record WHERE event IN (SELECT event FROM deletion)");
    if (!gone) return tl::unexpected(gone.error());
    return {};
  });
  if (!done) return tl::unexpected(done.error());
  return batch;
}

Result<QString> RecordAt(const EventDatabase& database, const QString& station, qint64 seq) {
  auto query =
      database.Run("SELECT uuid FROM record WHERE station = ? AND seq = ?", {station, seq});
  if (!query) return tl::unexpected(query.error());
  return query->next() ? query->value(0).toString() : QString();
}

// The newest record of a station that both sides have must be the same one. Where a station's
// folder was copied and both went on, it is not, from the first record after the copy on; comparing
// numbers alone would then hide records on both sides.
Result<void> CheckIdentities(const EventDatabase& a, const EventDatabase& b) {
  const auto newest_a = NewestOf(a);
  if (!newest_a) return tl::unexpected(newest_a.error());
  const auto newest_b = NewestOf(b);
  if (!newest_b) return tl::unexpected(newest_b.error());
  for (const auto& [station, last] : *newest_a) {
    const auto other = newest_b->find(station);
    if (other == newest_b->end()) continue;
    const qint64 common = std::min(last, other->second);
    const auto in_a = RecordAt(a, station, common);
    if (!in_a) return tl::unexpected(in_a.error());
    const auto in_b = RecordAt(b, station, common);
    if (!in_b) return tl::unexpected(in_b.error());
    if (in_a->isEmpty() || in_b->isEmpty() || *in_a == *in_b) continue;
    return Fail(ErrorCode::kMismatch,
                "Two laptops carry the same identity: the folder of a station was copied, or taken "
                "back from an older copy. Nothing was merged; give one of them a fresh folder with "
                "--data and export what only it holds.");
  }
  return {};
}

// That this station was here, and how far it had written.
Result<void> SignIn(EventStore& store, const EventDatabase& server) {
  const QString station = QString::fromStdString(store.station());
  const auto keys = StationKeysOf(store);
  if (!keys) return tl::unexpected(keys.error());
  const auto signed_in = server.Run(
      "INSERT INTO station (uuid, name, seen_at, written, public_key) VALUES (?, ?, ?, ?, ?)"
      " ON CONFLICT (uuid) DO UPDATE SET name = excluded.name, seen_at = excluded.seen_at,"
      " written = excluded.written, public_key = excluded.public_key",
      {station, store.Setting("name", "station"), store.Now(),
       store.Setting("seq", "0").toLongLong(), QString::fromStdString(keys->public_key)});
  if (!signed_in) return tl::unexpected(signed_in.error());
  // The others' names, for lists.
  auto names = server.Run("SELECT uuid, name, seen_at, written FROM station");
  if (!names) return tl::unexpected(names.error());
  std::vector<QVariantList> rows;
  while (names->next()) {
    rows.push_back({names->value(0), names->value(1), names->value(2), names->value(3)});
  }
  // What an older version had handed over unsealed before it was deleted.
  auto unsealed = server.Run("SELECT unsealed, event FROM deletion");
  if (!unsealed) return tl::unexpected(unsealed.error());
  std::vector<QVariantList> unsealed_rows;
  while (unsealed->next()) unsealed_rows.push_back({unsealed->value(0), unsealed->value(1)});
  auto noted =
      store.database().RunEach("UPDATE deletion SET unsealed = ? WHERE event = ?", unsealed_rows);
  if (!noted) return noted;
  // And which of them have confirmed a deletion.
  auto places = server.Run("SELECT event, station, done_at, records FROM deletion_at");
  if (!places) return tl::unexpected(places.error());
  std::vector<QVariantList> deletions;
  while (places->next()) {
    deletions.push_back({places->value(0), places->value(1), places->value(2), places->value(3)});
  }
  auto copied = store.database().RunEach(
      "INSERT INTO deletion_at (event, station, done_at, records) VALUES (?, ?, ?, ?)"
      " ON CONFLICT (event, station) DO UPDATE SET done_at = excluded.done_at,"
      " records = excluded.records",
      deletions);
  if (!copied) return copied;
  return store.database().RunEach(
      "INSERT INTO station (uuid, name, seen_at, written) VALUES (?, ?, ?, ?)"
      " ON CONFLICT (uuid) DO UPDATE SET name = excluded.name, seen_at = excluded.seen_at,"
      " written = excluded.written",
      rows);
}

}  // namespace

Result<SyncReport> Sync(EventStore& store, const EventDatabase& server) {
  SyncReport report;
  if (auto obeyed = ObeyDeletions(store, server, report); !obeyed) {
    return tl::unexpected(obeyed.error());
  }
  if (auto fine = CheckIdentities(store.database(), server); !fine) {
    return tl::unexpected(fine.error());
  }
  // What is written from here on may or may not go along: it waits for the next merge.
  qint64 written = store.Setting("seq", "0").toLongLong();
  if (auto drawn = DrawKeys(store); !drawn) return tl::unexpected(drawn.error());
  auto keys = KeysHere(store);
  if (!keys) return tl::unexpected(keys.error());
  const auto sent = HandOver(store.database(), server, Way::kSeal, *keys);
  if (!sent) return tl::unexpected(sent.error());
  report.sent = static_cast<int>(sent->records.size());
  const auto own = sent->last.find(QString::fromStdString(store.station()));
  if (own != sent->last.end()) written = std::min(written, own->second);
  if (auto signed_in = SignIn(store, server); !signed_in) {
    return tl::unexpected(signed_in.error());
  }
  // What somebody asked to delete before this station was known to be here lists it nowhere.
  if (auto obeyed = ObeyDeletions(store, server, report); !obeyed) {
    return tl::unexpected(obeyed.error());
  }
  if (auto exchanged = ExchangeKeys(store, server); !exchanged) {
    return tl::unexpected(exchanged.error());
  }
  keys = KeysHere(store);
  if (!keys) return tl::unexpected(keys.error());
  const auto received = HandOver(server, store.database(), Way::kOpen, *keys);
  if (!received) return tl::unexpected(received.error());
  report.received = static_cast<int>(received->records.size());
  const auto locked = OpenWhatCameBefore(store);
  if (!locked) return tl::unexpected(locked.error());
  report.locked = *locked;
  const auto noted = store.SetSetting("sent", QString::number(written));
  if (!noted) return tl::unexpected(noted.error());
  return report;
}

Result<SyncReport> ServerLink::Merge(EventStore& store) {
  const ServerAccess access = AccessOf(store);
  if (access.address != access_.address) server_.reset();
  access_ = access;
  if (access.address.isEmpty()) {
    return Fail(ErrorCode::kNotFound, "No server is set for this station; it works alone.");
  }
  if (!server_) {
    auto server = EventDatabase::OpenServer(access);
    if (!server) return tl::unexpected(server.error());
    server_.emplace(*std::move(server));
  }
  auto report = Sync(store, *server_);
  if (!report) server_.reset();
  return report;
}

Result<int> Waiting(const EventStore& store) {
  auto query = store.database().Run(
      "SELECT COUNT(*) FROM record WHERE station = ? AND seq > ?",
      {QString::fromStdString(store.station()), store.Setting("sent", "0").toLongLong()});
  if (!query) return tl::unexpected(query.error());
  return query->next() ? query->value(0).toInt() : 0;
}

}  // namespace nearpoint
