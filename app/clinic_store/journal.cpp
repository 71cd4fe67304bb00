#include "app/clinic_store/journal.h"

#include <QSqlQuery>
#include <nlohmann/json.hpp>

#include "app/clinic_store/rows.h"
#include "app/review/audit_log.h"

namespace nearpoint {
namespace {

constexpr const char* kColumns =
    "SELECT number, at, by, act, patient, object, previous, hash FROM journal";

// In one order and one spelling, so that the same entry has the same hash everywhere.
QString HashOfEntry(const JournalEntry& entry, const QString& previous) {
  nlohmann::ordered_json json;
  json["schema"] = "nearpoint/journal/1";
  json["entry"] = entry.number;
  json["at"] = entry.at.toStdString();
  json["by"] = entry.by.toStdString();
  json["act"] = entry.act.toStdString();
  json["patient"] = entry.patient;
  json["object"] = entry.object.toStdString();
  json["previous"] = previous.toStdString();
  return QString::fromStdString(HashOf(json.dump()));
}

struct Line {
  JournalEntry entry;
  QString previous, hash;
  [[nodiscard]] bool IsWhole() const { return HashOfEntry(entry, previous) == hash; }
};

Line LineOf(const QSqlQuery& row) {
  Line line;
  line.entry.number = row.value(0).toLongLong();
  line.entry.at = row.value(1).toString();
  line.entry.by = row.value(2).toString();
  line.entry.act = row.value(3).toString();
  line.entry.patient = row.value(4).toLongLong();
  line.entry.object = row.value(5).toString();
  line.previous = row.value(6).toString();
  line.hash = row.value(7).toString();
  return line;
}

tl::unexpected<Error> Broken(const Database& database, qint64 number) {
  return Fail(ErrorCode::kBadValue,
              database.file().toStdString() + ": the journal is broken at entry " +
                  std::to_string(number) + "; an entry was changed, removed or inserted there.");
}

}  // namespace

Result<void> AddToJournal(const Database& database, const JournalEntry& entry) {
  auto query = database.Run(QString(kColumns) + " ORDER BY number DESC LIMIT 1");
  if (!query) return tl::unexpected(query.error());
  QString previous("");
  JournalEntry numbered = entry;
  numbered.number = 1;
  if (query->next()) {
    const Line last = LineOf(*query);
    if (!last.IsWhole()) return Broken(database, last.entry.number);
    previous = last.hash;
    numbered.number = last.entry.number + 1;
  }
  // An open cursor would hold back the writer.
  query->finish();
  const auto added = database.Run(
      "INSERT INTO journal (number, at, by, act, patient, object, previous, hash) "
      "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
      {numbered.number, numbered.at, rows::Stored(numbered.by), numbered.act, numbered.patient,
       rows::Stored(numbered.object), previous, HashOfEntry(numbered, previous)});
  if (!added) return tl::unexpected(added.error());
  return {};
}

Result<std::vector<JournalEntry>> ReadJournal(const Database& database) {
  auto query = database.Run(QString(kColumns) + " ORDER BY number");
  if (!query) return tl::unexpected(query.error());
  std::vector<JournalEntry> entries;
  QString previous;
  while (query->next()) {
    const Line line = LineOf(*query);
    const auto expected = static_cast<qint64>(entries.size()) + 1;
    if (line.entry.number != expected || line.previous != previous || !line.IsWhole()) {
      return Broken(database, expected);
    }
    previous = line.hash;
    entries.push_back(line.entry);
  }
  return entries;
}

}  // namespace nearpoint
