#include "app/clinic_store/person_file.h"

#include <QSqlQuery>
#include <nlohmann/json.hpp>

#include "app/clinic_store/receive.h"
#include "app/clinic_store/rows.h"
#include "app/exchange/session_items.h"
#include "app/records/context_json.h"
#include "app/records/exercise_plan_json.h"

namespace nearpoint {
namespace {

using Json = nlohmann::ordered_json;

std::string Pretty(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

Json PatientJson(const Patient& patient) {
  Json json;
  json["schema"] = "nearpoint/patient/1";
  json["patient"] = patient.id;
  json["name"] = patient.name.toStdString();
  json["number"] = patient.number.toStdString();
  json["birth_year"] = nullptr;
  if (patient.birth_year) json["birth_year"] = *patient.birth_year;
  return json;
}

Result<void> AddMeasurements(const ClinicStore& store, RowId patient,
                             std::vector<ExportedFile>& files) {
  const auto measurements = store.Measurements(patient);
  if (!measurements) return tl::unexpected(measurements.error());
  for (const KeptMeasurement& measurement : *measurements) {
    const auto file = store.FindMeasurement(measurement.id);
    if (!file) return tl::unexpected(file.error());
    const std::string stem = "measurement-" + std::to_string(measurement.id);
    files.push_back({stem + ".json", file->text});
    if (!file->review.text().empty()) {
      files.push_back({stem + ".review.jsonl", file->review.text()});
    }
    auto tracks = store.database().Run("SELECT trial, track_z FROM track WHERE measurement = ?",
                                       {measurement.id});
    if (!tracks) return tl::unexpected(tracks.error());
    while (tracks->next()) {
      files.push_back(
          {TrackName(stem, tracks->value(0).toInt()), Grow(tracks->value(1).toByteArray())});
    }
    const auto pictures = store.EyePictures(measurement.id);
    if (!pictures) return tl::unexpected(pictures.error());
    for (const EyePicture& picture : *pictures) {
      files.push_back({PictureName(stem, picture.trial, picture.moment), picture.jpeg});
    }
  }
  return {};
}

Result<Json> SendersJson(const ClinicStore& store, RowId patient) {
  const auto devices = DevicesOf(store, patient);
  if (!devices) return tl::unexpected(devices.error());
  Json list = Json::array();
  for (const PatientDevice& device : *devices) {
    list.push_back({{"card", device.card.toStdString()}, {"name", device.said.toStdString()}});
  }
  return list;
}

Result<Json> PackagesJson(const ClinicStore& store, RowId patient) {
  auto query = store.database().Run(
      "SELECT id, said, made_at, received_at, sealed_hash FROM package WHERE patient = ?",
      {patient});
  if (!query) return tl::unexpected(query.error());
  Json list = Json::array();
  while (query->next()) {
    const auto text = [&query](int column) {
      return query->value(column).toString().toStdString();
    };
    list.push_back({{"id", text(0)},
                    {"name", text(1)},
                    {"made_at", text(2)},
                    {"received_at", text(3)},
                    {"sealed_hash", text(4)}});
  }
  return list;
}

Result<Json> FindingsJson(const ClinicStore& store, RowId patient) {
  const auto findings = store.Findings(patient);
  if (!findings) return tl::unexpected(findings.error());
  Json list = Json::array();
  for (const OfficeFinding& finding : *findings) {
    list.push_back({{"at", finding.at.toStdString()},
                    {"by", finding.by.toStdString()},
                    {"values", Json::parse(SerializeContext(finding.values))},
                    {"words", finding.words.toStdString()}});
  }
  return list;
}

Result<Json> PlansJson(const ClinicStore& store, RowId patient) {
  const auto plans = store.Plans(patient);
  if (!plans) return tl::unexpected(plans.error());
  Json list = Json::array();
  for (const StoredPlan& plan : *plans) {
    list.push_back({{"at", plan.at.toStdString()},
                    {"by", plan.by.toStdString()},
                    {"plan", Json::parse(SerializeExercisePlan(plan.plan))}});
  }
  return list;
}

Result<Json> JournalJson(const ClinicStore& store, RowId patient) {
  const auto journal = ReadJournal(store.database());
  if (!journal) return tl::unexpected(journal.error());
  Json list = Json::array();
  for (const JournalEntry& entry : *journal) {
    if (entry.patient != patient) continue;
    list.push_back({{"entry", entry.number},
                    {"at", entry.at.toStdString()},
                    {"by", entry.by.toStdString()},
                    {"act", entry.act.toStdString()},
                    {"object", entry.object.toStdString()}});
  }
  return list;
}

}  // namespace

Result<std::vector<ExportedFile>> ExportPatient(ClinicStore& store, RowId patient,
                                                const QString& by) {
  const auto found = store.FindPatient(patient);
  if (!found) return tl::unexpected(found.error());
  if (auto logged =
          store.database().InTransaction([&] { return store.Log(by, "exported", patient, ""); });
      !logged) {
    return tl::unexpected(logged.error());
  }
  std::vector<ExportedFile> files;
  Json json = PatientJson(*found);
  const std::pair<const char*, Result<Json> (*)(const ClinicStore&, RowId)> parts[] = {
      {"senders", SendersJson},
      {"packages", PackagesJson},
      {"findings", FindingsJson},
      {"plans", PlansJson},
      {"journal", JournalJson}};
  for (const auto& [name, make] : parts) {
    auto part = make(store, patient);
    if (!part) return tl::unexpected(part.error());
    json[name] = *std::move(part);
  }
  files.push_back({"patient.json", Pretty(json)});
  const auto days = store.ExerciseDays(patient);
  if (!days) return tl::unexpected(days.error());
  if (!days->empty()) files.push_back({"exercise-days.json", SerializeExerciseDays(*days)});
  if (auto added = AddMeasurements(store, patient, files); !added) {
    return tl::unexpected(added.error());
  }
  return files;
}

Result<void> DeletePatient(ClinicStore& store, RowId patient, const QString& by) {
  auto deleted = store.database().InTransaction([&]() -> Result<void> {
    const auto gone = store.database().Run("DELETE FROM patient WHERE id = ?", {patient});
    if (!gone) return tl::unexpected(gone.error());
    if (gone->numRowsAffected() == 0) {
      return Fail(ErrorCode::kNotFound, "This patient is not in the file any more.");
    }
    return store.Log(by, "deleted", patient, "");
  });
  if (!deleted) return deleted;
  // The log of the database holds old pages until it is cut.
  if (auto vacuumed = store.database().Run("VACUUM"); !vacuumed) {
    return tl::unexpected(vacuumed.error());
  }
  auto cut = store.database().Run("PRAGMA wal_checkpoint(TRUNCATE)");
  if (!cut) return tl::unexpected(cut.error());
  if (cut->next() && cut->value(0).toInt() != 0) {
    return Fail(ErrorCode::kUnavailable,
                store.database().file().toStdString() +
                    ": another window of this program has it open. The patient is deleted, but "
                    "bytes may remain in the file until every window is closed.");
  }
  return {};
}

Result<std::vector<Patient>> PastRetention(const ClinicStore& store, int months) {
  const QDate limit = store.Now().toLocalTime().date().addMonths(-months);
  auto query = store.database().Run(
      "SELECT id FROM patient WHERE IFNULL((SELECT MAX(day) FROM measurement WHERE patient = "
      "patient.id), julianday(created_at) - 2440587.5) < ? ORDER BY id",
      {static_cast<double>(QDate(1970, 1, 1).daysTo(limit))});
  if (!query) return tl::unexpected(query.error());
  std::vector<RowId> ids;
  while (query->next()) ids.push_back(query->value(0).toLongLong());
  std::vector<Patient> patients;
  for (const RowId id : ids) {
    auto patient = store.FindPatient(id);
    if (!patient) return tl::unexpected(patient.error());
    patients.push_back(*std::move(patient));
  }
  return patients;
}

}  // namespace nearpoint
