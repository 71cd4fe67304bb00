#include "app/event_store/event_keys.h"

#include <nlohmann/json.hpp>
#include <set>

namespace nearpoint {
namespace {

// Columns of a row (kRecordColumns).
enum Column { kUuid, kEvent, kChild, kStation, kSeq, kTick, kAt, kVolunteer, kKind, kBody };

std::string Text(const QVariant& value) { return value.toString().toStdString(); }

tl::unexpected<Error> Changed() {
  return Fail(ErrorCode::kMismatch,
              "A record on the server does not go with the key of its event: it was changed there, "
              "or the event was begun anew elsewhere. Nothing of it was taken over.");
}

// Everything of a record that stays readable on the server.
std::string About(const QVariantList& row) {
  std::string about;
  for (const Column column : {kUuid, kEvent, kChild, kStation, kSeq, kTick, kAt, kKind}) {
    about += Text(row[column]) + '\n';
  }
  return about;
}

std::string AboutSession(const QString& record) { return "session\n" + record.toStdString(); }

Result<std::set<QString>> Events(const EventDatabase& database, const QString& statement) {
  auto query = database.Run(statement);
  if (!query) return tl::unexpected(query.error());
  std::set<QString> events;
  while (query->next()) events.insert(query->value(0).toString());
  return events;
}

Result<void> Done(const Result<QSqlQuery>& query) {
  if (!query) return tl::unexpected(query.error());
  return {};
}

}  // namespace

Result<EventKeys> KeysHere(const EventStore& store) {
  auto query = store.database().Run(
      "SELECT event, secret FROM event_key WHERE event NOT IN (SELECT event FROM deletion)");
  if (!query) return tl::unexpected(query.error());
  EventKeys keys;
  while (query->next()) keys[query->value(0).toString()] = Text(query->value(1));
  return keys;
}

Result<void> DrawKeys(EventStore& store) {
  std::vector<QVariantList> drawn;
  {
    // One that an older version began has none yet. Only the station that began it draws, or there
    // would be two.
    auto query = store.database().Run(
        "SELECT event, station FROM record WHERE kind = 'event'"
        " AND event NOT IN (SELECT event FROM event_key)"
        " AND event NOT IN (SELECT event FROM deletion) ORDER BY tick, station");
    if (!query) return tl::unexpected(query.error());
    std::set<QString> seen;
    while (query->next()) {
      const QString event = query->value(0).toString();
      if (!seen.insert(event).second) continue;
      if (Text(query->value(1)) != store.station()) continue;
      drawn.push_back({event, QString::fromStdString(NewEventKey())});
    }
  }
  return store.database().RunEach(
      "INSERT INTO event_key (event, secret) VALUES (?, ?) ON CONFLICT (event) DO NOTHING", drawn);
}

Result<StationKeys> StationKeysOf(EventStore& store) {
  StationKeys keys{store.Setting("public_key").toStdString(),
                   store.Setting("secret_key").toStdString()};
  if (!keys.public_key.empty() && !keys.secret_key.empty()) return keys;
  keys = NewStationKeys();
  const auto kept = store.database().InTransaction([&]() -> Result<void> {
    auto set = store.SetSetting("public_key", QString::fromStdString(keys.public_key));
    if (set) set = store.SetSetting("secret_key", QString::fromStdString(keys.secret_key));
    return set;
  });
  if (!kept) return tl::unexpected(kept.error());
  return keys;
}

Result<void> ExchangeKeys(EventStore& store, const EventDatabase& server) {
  const auto own = StationKeysOf(store);
  if (!own) return tl::unexpected(own.error());
  const QString station = QString::fromStdString(store.station());
  std::set<std::tuple<QString, QString, QString>> there;  // event, station, public key
  std::vector<QVariantList> taken;
  {
    auto query = server.Run("SELECT event, station, public_key, sealed FROM key_for");
    if (!query) return tl::unexpected(query.error());
    while (query->next()) {
      const QString event = query->value(0).toString();
      const QString whose = query->value(1).toString();
      there.emplace(event, whose, query->value(2).toString());
      if (whose != station) continue;
      if (const auto key = OpenKey(Text(query->value(3)), *own)) {
        taken.push_back({event, QString::fromStdString(*key)});
      }
    }
  }
  auto put = store.database().RunEach(
      "INSERT INTO event_key (event, secret) VALUES (?, ?) ON CONFLICT (event) DO NOTHING", taken);
  if (!put) return put;
  const auto keys = KeysHere(store);
  if (!keys) return tl::unexpected(keys.error());
  std::vector<QVariantList> given;
  auto others = server.Run("SELECT uuid, public_key FROM station WHERE public_key <> ''");
  if (!others) return tl::unexpected(others.error());
  while (others->next()) {
    const QString whose = others->value(0).toString();
    const QString public_key = others->value(1).toString();
    if (whose == station) continue;
    for (const auto& [event, key] : *keys) {
      if (there.contains({event, whose, public_key})) continue;
      const auto sealed = SealKeyFor(key, public_key.toStdString());
      if (sealed) given.push_back({event, whose, public_key, QString::fromStdString(*sealed)});
    }
  }
  others->finish();
  return server.RunEach(
      "INSERT INTO key_for (event, station, public_key, sealed) VALUES (?, ?, ?, ?)"
      " ON CONFLICT (event, station) DO UPDATE SET public_key = excluded.public_key,"
      " sealed = excluded.sealed",
      given);
}

Result<void> DestroyKeys(const EventDatabase& database, const QString& event) {
  auto done = Done(database.Run("DELETE FROM event_key WHERE event = ?", {event}));
  if (done) done = Done(database.Run("DELETE FROM key_for WHERE event = ?", {event}));
  if (done && !database.server()) {
    done = Done(database.Run("DELETE FROM own WHERE name IN ('public_key', 'secret_key')"));
  }
  return done;
}

Result<bool> SealRecord(QVariantList& row, const EventKeys& keys) {
  if (IsSealedText(Text(row[kBody]))) return true;
  const auto key = keys.find(row[kEvent].toString());
  if (key == keys.end()) return false;
  // Who measured is a name too.
  const nlohmann::json inside{{"volunteer", Text(row[kVolunteer])}, {"body", Text(row[kBody])}};
  row[kBody] = QString::fromStdString(SealText(inside.dump(), About(row), key->second));
  row[kVolunteer] = QString("");
  return true;
}

Result<bool> OpenRecord(QVariantList& row, const EventKeys& keys) {
  if (!IsSealedText(Text(row[kBody]))) return true;
  const auto key = keys.find(row[kEvent].toString());
  if (key == keys.end()) return false;
  const auto text = OpenText(Text(row[kBody]), About(row), key->second);
  if (!text) return Changed();
  const auto inside = nlohmann::json::parse(*text, nullptr, /*allow_exceptions=*/false);
  if (!inside.is_object() || !inside.contains("body") || !inside["body"].is_string() ||
      !inside.contains("volunteer") || !inside["volunteer"].is_string()) {
    return Changed();
  }
  row[kVolunteer] = QString::fromStdString(inside["volunteer"].get<std::string>());
  row[kBody] = QString::fromStdString(inside["body"].get<std::string>());
  return true;
}

Result<bool> SealSession(QVariant& body, const QString& record, const QString& event,
                         const EventKeys& keys) {
  if (IsSealedText(Text(body))) return true;
  const auto key = keys.find(event);
  if (key == keys.end()) return false;
  body = QString::fromStdString(SealText(Text(body), AboutSession(record), key->second));
  return true;
}

Result<bool> OpenSession(QVariant& body, const QString& record, const QString& event,
                         const EventKeys& keys) {
  if (!IsSealedText(Text(body))) return true;
  const auto key = keys.find(event);
  if (key == keys.end()) return false;
  const auto text = OpenText(Text(body), AboutSession(record), key->second);
  if (!text) return Changed();
  body = QString::fromStdString(*text);
  return true;
}

Result<int> OpenWhatCameBefore(EventStore& store) {
  const EventDatabase& database = store.database();
  const auto keys = KeysHere(store);
  if (!keys) return tl::unexpected(keys.error());
  std::vector<QVariantList> records, sessions;
  {
    auto query = database.Run(QString("SELECT %1 FROM record WHERE body LIKE '%2%'")
                                  .arg(kRecordColumns, QString::fromUtf8(kSealedMark.data())));
    if (!query) return tl::unexpected(query.error());
    while (query->next()) {
      QVariantList row;
      for (int i = 0; i <= kBody; ++i) row.push_back(query->value(i));
      const auto opened = OpenRecord(row, *keys);
      if (!opened) return tl::unexpected(opened.error());
      if (*opened) records.push_back({row[kBody], row[kVolunteer], row[kUuid]});
    }
    auto texts = database.Run(
        QString("SELECT session_text.record, session_text.body, event FROM session_text"
                " JOIN record ON uuid = session_text.record WHERE session_text.body LIKE '%1%'")
            .arg(QString::fromUtf8(kSealedMark.data())));
    if (!texts) return tl::unexpected(texts.error());
    while (texts->next()) {
      QVariant body = texts->value(1);
      const auto opened =
          OpenSession(body, texts->value(0).toString(), texts->value(2).toString(), *keys);
      if (!opened) return tl::unexpected(opened.error());
      if (*opened) sessions.push_back({body, texts->value(0)});
    }
  }
  if (!records.empty() || !sessions.empty()) {
    const auto put = database.InTransaction([&]() -> Result<void> {
      auto done =
          database.RunEach("UPDATE record SET body = ?, volunteer = ? WHERE uuid = ?", records);
      if (done)
        done = database.RunEach("UPDATE session_text SET body = ? WHERE record = ?", sessions);
      return done;
    });
    if (!put) return tl::unexpected(put.error());
  }
  const auto locked =
      Events(database, QString("SELECT DISTINCT event FROM record WHERE body LIKE '%1%'")
                           .arg(QString::fromUtf8(kSealedMark.data())));
  if (!locked) return tl::unexpected(locked.error());
  return static_cast<int>(locked->size());
}

}  // namespace nearpoint
