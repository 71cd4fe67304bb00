#include "app/clinic_store/clinic_store.h"

#include <QSqlQuery>
#include <algorithm>
#include <utility>

#include "app/clinic_store/clinic_schema.h"
#include "app/clinic_store/rows.h"
#include "app/records/context_json.h"
#include "app/records/exercise_plan_json.h"
#include "app/review/review.h"

namespace nearpoint {
namespace {

constexpr const char* kPatientColumns = "SELECT id, name, number, birth_year FROM patient";
constexpr const char* kMeasurementColumns =
    "SELECT id, patient, name, digest, text_z, review, hash FROM measurement";

Patient PatientOf(const QSqlQuery& row) {
  Patient patient;
  patient.id = row.value(0).toLongLong();
  patient.name = row.value(1).toString();
  patient.number = row.value(2).toString();
  if (!row.value(3).isNull()) patient.birth_year = row.value(3).toInt();
  return patient;
}

QVariant YearOf(const Patient& patient) {
  return patient.birth_year ? QVariant(*patient.birth_year) : QVariant(QMetaType::fromType<int>());
}

Result<KeptMeasurement> MeasurementOf(const QSqlQuery& row) {
  KeptMeasurement measurement;
  measurement.id = row.value(0).toLongLong();
  measurement.patient = row.value(1).toLongLong();
  measurement.name = row.value(2).toString();
  auto digest = ParseDigest(row.value(3).toString().toStdString(),
                            "measurement " + std::to_string(measurement.id));
  if (!digest) return tl::unexpected(digest.error());
  measurement.digest = *std::move(digest);
  return measurement;
}

Result<void> CheckPatient(const Patient& patient) {
  if (!patient.name.trimmed().isEmpty()) return {};
  return Fail(ErrorCode::kBadValue, "A patient needs a name or a number to be found by.");
}

}  // namespace

ClinicStore::ClinicStore(Database database, std::function<QDateTime()> clock)
    : database_(std::move(database)), clock_(std::move(clock)) {}

Result<ClinicStore> ClinicStore::Open(const QString& file, std::function<QDateTime()> clock) {
  auto database = Database::Open(file, ClinicMigrations());
  if (!database) return tl::unexpected(database.error());
  if (!database->Run("SELECT key FROM clinic_setting LIMIT 1")) {
    return Fail(ErrorCode::kMismatch,
                file.toStdString() + ": this is a file of the program, but not of the clinic.");
  }
  // What is deleted is overwritten with zeros instead of being left in free pages.
  if (auto set = database->Run("PRAGMA secure_delete = ON"); !set) {
    return tl::unexpected(set.error());
  }
  return ClinicStore(*std::move(database), std::move(clock));
}

QString ClinicStore::NowText() const { return Now().toUTC().toString(Qt::ISODateWithMs); }

QString ClinicStore::Setting(const QString& key, const QString& otherwise) const {
  auto query = database_.Run("SELECT value FROM clinic_setting WHERE key = ?", {key});
  return query && query->next() ? query->value(0).toString() : otherwise;
}

Result<void> ClinicStore::SetSetting(const QString& key, const QString& value) {
  return rows::Done(
      database_.Run("INSERT INTO clinic_setting (key, value) VALUES (?, ?) "
                    "ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                    {key, value}));
}

Result<void> ClinicStore::Log(const QString& by, const QString& act, RowId patient,
                              const QString& object) const {
  JournalEntry entry;
  entry.at = NowText();
  entry.by = by;
  entry.act = act;
  entry.patient = patient;
  entry.object = object;
  return AddToJournal(database_, entry);
}

Result<Patient> ClinicStore::AddPatient(const Patient& patient) {
  if (auto checked = CheckPatient(patient); !checked) return tl::unexpected(checked.error());
  Patient added = patient;
  const auto done = database_.InTransaction([&]() -> Result<void> {
    // Never the number of somebody who was deleted: the journal still speaks of that one.
    auto last = database_.Run(
        "SELECT MAX((SELECT IFNULL(MAX(id), 0) FROM patient), "
        "(SELECT IFNULL(MAX(patient), 0) FROM journal))");
    if (!last) return tl::unexpected(last.error());
    added.id = (last->next() ? last->value(0).toLongLong() : 0) + 1;
    last->finish();
    const auto query = database_.Run(
        "INSERT INTO patient (id, name, number, birth_year, created_at) VALUES (?, ?, ?, ?, ?)",
        {added.id, patient.name, rows::Stored(patient.number), YearOf(patient), NowText()});
    if (!query) return tl::unexpected(query.error());
    return Log("", "added", added.id, "");
  });
  if (!done) return tl::unexpected(done.error());
  return added;
}

Result<void> ClinicStore::UpdatePatient(const Patient& patient) {
  if (auto checked = CheckPatient(patient); !checked) return checked;
  return database_.InTransaction([&]() -> Result<void> {
    const auto query =
        database_.Run("UPDATE patient SET name = ?, number = ?, birth_year = ? WHERE id = ?",
                      {patient.name, rows::Stored(patient.number), YearOf(patient), patient.id});
    if (!query) return tl::unexpected(query.error());
    // Another year of birth is another limit.
    if (auto fresh = RefreshPatient(patient.id); !fresh) return fresh;
    return Log("", "changed", patient.id, "");
  });
}

Result<void> ClinicStore::MarkSeen(RowId patient, const QString& by, Day today) {
  return database_.InTransaction([&]() -> Result<void> {
    const auto query = database_.Run("UPDATE patient SET seen_day = ? WHERE id = ?",
                                     {rows::ToQt(DayToText(today)), patient});
    if (!query) return tl::unexpected(query.error());
    return Log(by, "seen", patient, "");
  });
}

Result<Patient> ClinicStore::FindPatient(RowId id) const {
  auto query = database_.Run(QString(kPatientColumns) + " WHERE id = ?", {id});
  if (!query) return tl::unexpected(query.error());
  if (!query->next())
    return Fail(ErrorCode::kNotFound, "This patient is not in the file any more.");
  return PatientOf(*query);
}

std::optional<double> ClinicStore::AgeOf(const std::optional<int>& birth_year) const {
  if (!birth_year) return std::nullopt;
  return Now().toLocalTime().date().year() - *birth_year;
}

Result<LimitNow> ClinicStore::Limit(RowId patient) const {
  const auto known = FindPatient(patient);
  if (!known) return tl::unexpected(known.error());
  const auto received = AsReceived(patient);
  if (!received) return tl::unexpected(received.error());
  std::vector<SessionDigest> digests;
  for (const KeptMeasurement& measurement : *received) digests.push_back(measurement.digest);
  return LimitFor(AgeOf(known->birth_year), SaidByTheNewest(digests));
}

Result<std::vector<KeptMeasurement>> ClinicStore::Measurements(RowId patient) const {
  auto measurements = AsReceived(patient);
  if (!measurements || measurements->empty()) return measurements;
  const auto limit = Limit(patient);
  if (!limit) return tl::unexpected(limit.error());
  for (KeptMeasurement& measurement : *measurements) {
    measurement.digest = HeldAgainst(std::move(measurement.digest), *limit);
  }
  return measurements;
}

Result<std::vector<KeptMeasurement>> ClinicStore::AsReceived(RowId patient) const {
  auto query = database_.Run(
      "SELECT id, patient, name, digest FROM measurement WHERE patient = ? ORDER BY day, id",
      {patient});
  if (!query) return tl::unexpected(query.error());
  std::vector<KeptMeasurement> measurements;
  while (query->next()) {
    auto measurement = MeasurementOf(*query);
    if (!measurement) return tl::unexpected(measurement.error());
    measurements.push_back(*std::move(measurement));
  }
  return measurements;
}

Result<MeasurementFile> ClinicStore::FindMeasurement(RowId id) const {
  auto query = database_.Run(QString(kMeasurementColumns) + " WHERE id = ?", {id});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) return Fail(ErrorCode::kNotFound, "This measurement is not in the file.");
  auto measurement = MeasurementOf(*query);
  if (!measurement) return tl::unexpected(measurement.error());
  const std::string where = "measurement " + std::to_string(id);
  std::string text = Grow(query->value(4).toByteArray());
  const std::string hash = query->value(6).toString().toStdString();
  if (HashOf(text) != hash) {
    return Fail(ErrorCode::kBadValue,
                where + ": is not what was received; the file was changed from outside.");
  }
  auto review = AuditLog::Parse(query->value(5).toString().toStdString(), hash, where + ", review");
  if (!review) return tl::unexpected(review.error());
  const auto limit = Limit(measurement->patient);
  if (!limit) return tl::unexpected(limit.error());
  measurement->digest = HeldAgainst(std::move(measurement->digest), *limit);
  return MeasurementFile{*std::move(measurement), std::move(text), *std::move(review)};
}

Result<std::string> ClinicStore::Track(RowId measurement, int trial) const {
  auto query = database_.Run("SELECT track_z FROM track WHERE measurement = ? AND trial = ?",
                             {measurement, trial});
  if (!query) return tl::unexpected(query.error());
  return query->next() ? Grow(query->value(0).toByteArray()) : std::string();
}

Result<std::vector<EyePicture>> ClinicStore::EyePictures(RowId measurement) const {
  auto query = database_.Run(
      "SELECT trial, moment, jpeg FROM eye_picture WHERE measurement = ? ORDER BY trial, moment",
      {measurement});
  if (!query) return tl::unexpected(query.error());
  std::vector<EyePicture> pictures;
  while (query->next()) {
    const auto moment = ParseEyeMoment(query->value(1).toString().toStdString());
    if (!moment) continue;
    pictures.push_back(
        {query->value(0).toInt(), *moment, query->value(2).toByteArray().toStdString()});
  }
  return pictures;
}

Result<void> ClinicStore::Review(RowId measurement, const AuditEntry& entry) {
  return database_.InTransaction([&]() -> Result<void> {
    auto file = FindMeasurement(measurement);
    if (!file) return tl::unexpected(file.error());
    if (auto added = file->review.Add(entry); !added) return added;
    auto digest = DigestOf(file->text, file->review, file->measurement.digest.day,
                           file->measurement.name.toStdString());
    if (!digest) return tl::unexpected(digest.error());
    const auto written = database_.Run(
        "UPDATE measurement SET review = ?, digest = ? WHERE id = ?",
        {rows::ToQt(file->review.text()), rows::ToQt(SerializeDigest(*digest)), measurement});
    if (!written) return tl::unexpected(written.error());
    if (auto fresh = RefreshPatient(file->measurement.patient); !fresh) return fresh;
    return Log(QString::fromStdString(entry.by), "reviewed", file->measurement.patient,
               rows::ToQt(file->review.head()));
  });
}

Result<QString> ClinicStore::InstallationOf(RowId measurement) const {
  auto query = database_.Run(
      "SELECT card FROM package JOIN measurement ON package = package.id WHERE measurement.id = ?",
      {measurement});
  if (!query) return tl::unexpected(query.error());
  return query->next() ? query->value(0).toString() : QString();
}

Result<bool> ClinicStore::WasPushed(const MeasurementFile& file, const QString& server) const {
  auto query =
      database_.Run("SELECT at FROM pushed WHERE measurement = ? AND server = ? AND state = ?",
                    {file.measurement.id, server, rows::ToQt(file.review.head())});
  if (!query) return tl::unexpected(query.error());
  return query->next();
}

Result<void> ClinicStore::MarkPushed(const MeasurementFile& file, const QString& server,
                                     const QString& by) {
  return database_.InTransaction([&]() -> Result<void> {
    const auto added = database_.Run(
        "INSERT OR IGNORE INTO pushed (measurement, server, state, at) VALUES (?, ?, ?, ?)",
        {file.measurement.id, server, rows::ToQt(file.review.head()), NowText()});
    if (!added) return tl::unexpected(added.error());
    return Log(by, "pushed", file.measurement.patient, rows::ToQt(file.review.head()));
  });
}

QByteArray Shrink(const std::string& text) { return qCompress(QByteArray::fromStdString(text)); }
std::string Grow(const QByteArray& bytes) { return qUncompress(bytes).toStdString(); }

}  // namespace nearpoint
