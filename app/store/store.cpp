#include "app/store/store.h"

#include <QSqlQuery>
#include <utility>

#include "app/records/events_jsonl.h"
#include "app/records/trial_eyes_json.h"
#include "app/records/trial_json.h"

namespace nearpoint {
namespace {

// How long an interrupted session is still worth going on with: the eyes of an hour ago are not
// those of now.
constexpr int kGoOnSeconds = 3600;

QString TimeText(const QDateTime& time) { return time.toUTC().toString(Qt::ISODateWithMs); }
QDateTime ToTime(const QVariant& text) {
  QDateTime time = QDateTime::fromString(text.toString(), Qt::ISODateWithMs);
  return time.toUTC();
}
QString ToQt(const std::string& text) { return QString::fromStdString(text); }

Person PersonOf(const QSqlQuery& row) {
  Person person;
  person.id = row.value(0).toLongLong();
  person.name = row.value(1).toString();
  if (!row.value(2).isNull()) person.birth_year = row.value(2).toInt();
  return person;
}

constexpr const char* kPersonColumns = "SELECT id, name, birth_year FROM person";
constexpr const char* kSessionColumns =
    "SELECT id, person, practice, source, profile_json, norm, target, started_at, ended_at, "
    "comfort, session_json, (SELECT COUNT(*) FROM trial WHERE trial.session = session.id), "
    "(SELECT COUNT(*) FROM trial WHERE trial.session = session.id AND set_aside IS NULL) "
    "FROM session";

HomeSession SessionOf(const QSqlQuery& row) {
  HomeSession session;
  session.id = row.value(0).toLongLong();
  session.setup.person = row.value(1).toLongLong();
  session.setup.practice = row.value(2).toBool();
  session.setup.source = row.value(3).toString();
  session.setup.profile_json = row.value(4).toString().toStdString();
  session.setup.norm = row.value(5).toString();
  session.setup.target = row.value(6).toString();
  session.started_at = ToTime(row.value(7));
  if (!row.value(8).isNull()) session.ended_at = ToTime(row.value(8));
  session.comfort = row.value(9).toString();
  session.session_json = row.value(10).toString().toStdString();
  session.trials = row.value(11).toInt();
  session.counted = row.value(12).toInt();
  return session;
}

QVariant YearOf(const Person& person) {
  return person.birth_year ? QVariant(*person.birth_year) : QVariant(QMetaType::fromType<int>());
}

QVariant PersonOrNull(RowId person) {
  return person == 0 ? QVariant(QMetaType::fromType<RowId>()) : QVariant(person);
}

// From here on the caller may ignore the query.
Result<void> Done(const Result<QSqlQuery>& query) {
  if (!query) return tl::unexpected(query.error());
  return {};
}

}  // namespace

Store::Store(Database database, std::function<QDateTime()> clock)
    : database_(std::move(database)), clock_(std::move(clock)) {}

Result<Store> Store::Open(const QString& file, std::function<QDateTime()> clock) {
  auto database = Database::Open(file);
  if (!database) return tl::unexpected(database.error());
  return Store(*std::move(database), std::move(clock));
}

QString Store::Setting(const QString& key, const QString& otherwise) const {
  auto query = database_.Run("SELECT value FROM setting WHERE key = ?", {key});
  return query && query->next() ? query->value(0).toString() : otherwise;
}

Result<void> Store::SetSetting(const QString& key, const QString& value) {
  return Done(
      database_.Run("INSERT INTO setting (key, value) VALUES (?, ?) "
                    "ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                    {key, value}));
}

Result<Person> Store::AddPerson(const Person& person) {
  const auto query =
      database_.Run("INSERT INTO person (name, birth_year, created_at) VALUES (?, ?, ?)",
                    {person.name, YearOf(person), TimeText(clock_())});
  if (!query) return tl::unexpected(query.error());
  Person added = person;
  added.id = query->lastInsertId().toLongLong();
  return added;
}

Result<void> Store::UpdatePerson(const Person& person) {
  return Done(database_.Run("UPDATE person SET name = ?, birth_year = ? WHERE id = ?",
                            {person.name, YearOf(person), person.id}));
}

Result<std::vector<Person>> Store::People() const {
  auto query = database_.Run(QString(kPersonColumns) + " ORDER BY id");
  if (!query) return tl::unexpected(query.error());
  std::vector<Person> people;
  while (query->next()) people.push_back(PersonOf(*query));
  return people;
}

Result<Person> Store::FindPerson(RowId id) const {
  auto query = database_.Run(QString(kPersonColumns) + " WHERE id = ?", {id});
  if (!query) return tl::unexpected(query.error());
  if (!query->next())
    return Fail(ErrorCode::kNotFound, "This person is not in the store any more.");
  return PersonOf(*query);
}

Result<void> Store::AddCalibration(RowId person, const std::string& profile_json) {
  return Done(
      database_.Run("INSERT INTO calibration (person, made_at, profile_json) VALUES (?, ?, ?)",
                    {person, TimeText(clock_()), ToQt(profile_json)}));
}

Result<std::optional<Store::Calibration>> Store::LatestCalibration(RowId person) const {
  auto query = database_.Run(
      "SELECT made_at, profile_json FROM calibration WHERE person = ? ORDER BY id DESC LIMIT 1",
      {person});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) return std::optional<Calibration>();
  return std::optional(
      Calibration{ToTime(query->value(0)), query->value(1).toString().toStdString()});
}

Result<RowId> Store::BeginSession(const SessionSetup& setup) {
  const auto query = database_.Run(
      "INSERT INTO session (person, started_at, practice, source, profile_json, norm, target) "
      "VALUES (?, ?, ?, ?, ?, ?, ?)",
      {PersonOrNull(setup.person), TimeText(clock_()), setup.practice, setup.source,
       ToQt(setup.profile_json), setup.norm, setup.target});
  if (!query) return tl::unexpected(query.error());
  return query->lastInsertId().toLongLong();
}

Result<void> Store::AddTrial(RowId session, const StoredTrial& trial,
                             const SharedCalibration& shared, const std::string& session_json) {
  std::string events;
  for (const Event& event : trial.events) events += EventLine(event) + '\n';
  const QVariant reason = trial.trial.set_aside
                              ? QVariant(ToQt(std::string(ToText(*trial.trial.set_aside))))
                              : QVariant(QMetaType::fromType<QString>());
  // The fastest level: the window waits for it, and the text shrinks well all the same.
  const QByteArray track = qCompress(QByteArray::fromStdString(trial.track_jsonl), 1);
  return database_.InTransaction([&]() -> Result<void> {
    const auto added = database_.Run(
        "INSERT INTO trial (session, number, stored_at, trial_json, set_aside, events_jsonl, "
        "track_z, eyes_json) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        {session, trial.trial.number, TimeText(clock_()), ToQt(TrialToText(trial.trial)), reason,
         ToQt(events), track, ToQt(TrialEyesToText(trial.eyes))});
    if (!added) return tl::unexpected(added.error());
    return Done(
        database_.Run("UPDATE session SET session_json = ?, shared_relative_sd = ?, "
                      "shared_offset_sd_mm = ? WHERE id = ?",
                      {ToQt(session_json), shared.relative_sd, shared.offset_sd.mm(), session}));
  });
}

Result<void> Store::EndSession(RowId session, const QString& comfort) {
  return Done(database_.Run("UPDATE session SET ended_at = ?, comfort = ? WHERE id = ?",
                            {TimeText(clock_()), comfort, session}));
}

Result<std::vector<HomeSession>> Store::Sessions(RowId person) const {
  auto query = database_.Run(QString(kSessionColumns) + " WHERE person IS ? ORDER BY id DESC",
                             {PersonOrNull(person)});
  if (!query) return tl::unexpected(query.error());
  std::vector<HomeSession> sessions;
  while (query->next()) sessions.push_back(SessionOf(*query));
  return sessions;
}

Result<HomeSession> Store::FindSession(RowId id) const {
  auto query = database_.Run(QString(kSessionColumns) + " WHERE id = ?", {id});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) return Fail(ErrorCode::kNotFound, "This session is not in the store.");
  return SessionOf(*query);
}

Result<std::optional<HomeSession>> Store::Unfinished(RowId person) const {
  auto query = database_.Run(QString(kSessionColumns) +
                                 " WHERE person IS ? AND ended_at IS NULL AND started_at >= ?"
                                 " AND EXISTS (SELECT 1 FROM trial WHERE session = session.id)"
                                 " ORDER BY id DESC LIMIT 1",
                             {PersonOrNull(person), TimeText(clock_().addSecs(-kGoOnSeconds))});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) return std::optional<HomeSession>();
  return std::optional(SessionOf(*query));
}

Result<std::vector<StoredTrial>> Store::Trials(RowId session) const {
  auto query = database_.Run(
      "SELECT number, trial_json, events_jsonl, track_z, eyes_json FROM trial WHERE session = ? "
      "ORDER BY number",
      {session});
  if (!query) return tl::unexpected(query.error());
  std::vector<StoredTrial> trials;
  while (query->next()) {
    const std::string where = "session " + std::to_string(session) + ", trial " +
                              query->value(0).toString().toStdString();
    StoredTrial stored;
    auto trial = TrialFromText(query->value(1).toString().toStdString(), where);
    if (!trial) return tl::unexpected(trial.error());
    stored.trial = *std::move(trial);
    auto events = ParseEvents(query->value(2).toString().toStdString(), where);
    if (!events) return tl::unexpected(events.error());
    stored.events = *std::move(events);
    if (!query->value(4).isNull()) {
      auto eyes = TrialEyesFromText(query->value(4).toString().toStdString(), where);
      if (!eyes) return tl::unexpected(eyes.error());
      stored.eyes = *std::move(eyes);
    }
    stored.track_jsonl = qUncompress(query->value(3).toByteArray()).toStdString();
    trials.push_back(std::move(stored));
  }
  return trials;
}

Result<SharedCalibration> Store::SharedOfSession(RowId session) const {
  auto query = database_.Run(
      "SELECT shared_relative_sd, shared_offset_sd_mm FROM session WHERE id = ?", {session});
  if (!query) return tl::unexpected(query.error());
  SharedCalibration shared;
  if (query->next()) {
    shared.relative_sd = query->value(0).toDouble();
    shared.offset_sd = Length::Millimeters(query->value(1).toDouble());
  }
  return shared;
}

}  // namespace nearpoint
