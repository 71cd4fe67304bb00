#include "app/event_store/event_store.h"

#include <QUuid>
#include <utility>

#include "app/event_store/event_seal.h"

namespace nearpoint {
namespace {

QString ToQt(const std::string& text) { return QString::fromStdString(text); }

const QString kSealed = QString::fromUtf8(kSealedMark.data());
constexpr int kBodyColumn = 9;  // of kRecordColumns

QVariantList RecordRow(const EventRecord& record) {
  const std::string_view kind = KindOf(record.body);
  return {ToQt(record.uuid),
          ToQt(record.event),
          ToQt(record.child),
          ToQt(record.station),
          static_cast<qlonglong>(record.seq),
          static_cast<qlonglong>(record.tick),
          ToQt(record.at),
          ToQt(record.volunteer),
          QString::fromUtf8(kind.data(), static_cast<qsizetype>(kind.size())),
          ToQt(BodyToText(record.body))};
}

Result<EventRecord> ReadRecord(const QSqlQuery& row, const QString& place) {
  const auto text = [&row](int column) { return row.value(column).toString().toStdString(); };
  EventRecord record;
  record.uuid = text(0);
  record.event = text(1);
  record.child = text(2);
  record.station = text(3);
  record.seq = row.value(4).toLongLong();
  record.tick = row.value(5).toLongLong();
  record.at = text(6);
  record.volunteer = text(7);
  auto body = BodyFromText(text(8), text(9), place.toStdString() + ", record " + record.uuid);
  if (!body) return tl::unexpected(body.error());
  record.body = *std::move(body);
  return record;
}

Result<void> Done(const Result<QSqlQuery>& query) {
  if (!query) return tl::unexpected(query.error());
  return {};
}

}  // namespace

Uuid MakeUuid() { return QUuid::createUuid().toString(QUuid::WithoutBraces).toStdString(); }

EventStore::EventStore(EventDatabase database, std::function<QDateTime()> clock)
    : database_(std::move(database)), clock_(std::move(clock)) {}

Result<EventStore> EventStore::Open(const QString& file, std::function<QDateTime()> clock) {
  auto database = EventDatabase::OpenFile(file);
  if (!database) return tl::unexpected(database.error());
  EventStore store(*std::move(database), std::move(clock));
  if (auto identified = store.Identify(); !identified) return tl::unexpected(identified.error());
  return store;
}

Result<void> EventStore::Identify() {
  const auto made = database_.Run(
      "INSERT INTO own (name, value) VALUES ('station', ?) ON CONFLICT (name) DO NOTHING",
      {ToQt(MakeUuid())});
  if (!made) return tl::unexpected(made.error());
  station_ = Setting("station").toStdString();
  return {};
}

QString EventStore::Setting(const QString& name, const QString& otherwise) const {
  auto query = database_.Run("SELECT value FROM own WHERE name = ?", {name});
  if (!query || !query->next()) return otherwise;
  return query->value(0).toString();
}

Result<void> EventStore::SetSetting(const QString& name, const QString& value) {
  return Done(
      database_.Run("INSERT INTO own (name, value) VALUES (?, ?)"
                    " ON CONFLICT (name) DO UPDATE SET value = excluded.value",
                    {name, value}));
}

QString EventStore::Now() const { return clock_().toUTC().toString(Qt::ISODate); }

Result<qint64> EventStore::Counter(const QString& name) const {
  auto query = database_.Run("SELECT value FROM own WHERE name = ?", {name});
  if (!query) return tl::unexpected(query.error());
  return query->next() ? query->value(0).toLongLong() : 0;
}

Result<std::vector<EventRecord>> EventStore::Append(const Uuid& event,
                                                    const std::vector<NewRecord>& records) {
  std::vector<EventRecord> written;
  const std::string volunteer = Setting("volunteer").toStdString();
  const auto done = database_.InTransaction([&]() -> Result<void> {
    auto deletion = database_.Run("SELECT 1 FROM deletion WHERE event = ?", {ToQt(event)});
    if (!deletion) return tl::unexpected(deletion.error());
    if (deletion->next()) {
      return Fail(ErrorCode::kMismatch,
                  "This event was deleted by its organiser; nothing more can be recorded in it.");
    }
    deletion->finish();
    // Both counters outlive the records: a number is never given twice, even after a deletion.
    auto seq = Counter("seq");
    if (!seq) return tl::unexpected(seq.error());
    auto tick = database_.Run("SELECT MAX(tick) FROM record");
    if (!tick) return tl::unexpected(tick.error());
    qint64 newest = tick->next() ? tick->value(0).toLongLong() : 0;
    tick->finish();
    std::vector<QVariantList> rows, sessions;
    for (const NewRecord& fresh : records) {
      EventRecord record;
      record.uuid = MakeUuid();
      record.event = event;
      record.child = fresh.child;
      record.station = station_;
      record.seq = ++*seq;
      record.tick = ++newest;
      record.at = Now().toStdString();
      record.volunteer = volunteer;
      record.body = fresh.body;
      rows.push_back(RecordRow(record));
      if (!fresh.session_json.empty()) {
        sessions.push_back({ToQt(record.uuid), ToQt(fresh.session_json)});
      }
      written.push_back(std::move(record));
    }
    if (auto put = database_.RunEach(kInsertRecord, rows); !put) return put;
    if (auto put = database_.RunEach(kInsertSession, sessions); !put) return put;
    return SetSetting("seq", QString::number(*seq));
  });
  if (!done) return tl::unexpected(done.error());
  return written;
}

Result<std::vector<EventStore::Listed>> EventStore::Events() const {
  auto query = database_.Run(
      QString("SELECT %1 FROM record WHERE kind = 'event' AND body NOT LIKE '%2%' ORDER BY tick")
          .arg(kRecordColumns, kSealed));
  if (!query) return tl::unexpected(query.error());
  std::vector<Listed> events;
  while (query->next()) {
    auto record = ReadRecord(*query, database_.place());
    if (!record) return tl::unexpected(record.error());
    std::erase_if(events, [&](const Listed& known) { return known.event == record->event; });
    events.insert(events.begin(), {record->event, std::get<EventOpened>(record->body)});
  }
  return events;
}

int EventStore::LockedEvents() const {
  auto query = database_.Run(
      QString("SELECT COUNT(DISTINCT event) FROM record WHERE body LIKE '%1%'").arg(kSealed));
  return query && query->next() ? query->value(0).toInt() : 0;
}

Result<std::vector<EventRecord>> EventStore::Records(const Uuid& event) const {
  auto query = database_.Run(QString("SELECT %1 FROM record WHERE event = ?").arg(kRecordColumns),
                             {ToQt(event)});
  if (!query) return tl::unexpected(query.error());
  std::vector<EventRecord> records;
  while (query->next()) {
    if (IsSealedText(query->value(kBodyColumn).toString().toStdString())) {
      return Fail(ErrorCode::kUnavailable,
                  "This event is still locked here: its key comes as soon as another station that "
                  "has it is connected.");
    }
    auto record = ReadRecord(*query, database_.place());
    if (!record) return tl::unexpected(record.error());
    records.push_back(*std::move(record));
  }
  return records;
}

Result<EventState> EventStore::State(const Uuid& event) const {
  const auto records = Records(event);
  if (!records) return tl::unexpected(records.error());
  if (records->empty()) {
    return Fail(ErrorCode::kNotFound, "This event is not on this computer.");
  }
  return StateOf(*records);
}

Result<std::string> EventStore::SessionText(const Uuid& measurement) const {
  auto query = database_.Run("SELECT body FROM session_text WHERE record = ?", {ToQt(measurement)});
  if (!query) return tl::unexpected(query.error());
  return query->next() ? query->value(0).toString().toStdString() : std::string();
}

Result<qint64> EventStore::Count() const {
  auto query = database_.Run("SELECT COUNT(*) FROM record");
  if (!query) return tl::unexpected(query.error());
  return query->next() ? query->value(0).toLongLong() : 0;
}

}  // namespace nearpoint
