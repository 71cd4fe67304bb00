// What the clinic remembers: patients, what was received of them, reviews, office findings and
// plans. Every call is on disk when it returns.
//
// The file is readable by its user alone and is NOT encrypted: Debian has no SQLite with
// encryption that is kept up for Qt. Whoever can read this user's files can read it; a disk that is
// encrypted as a whole is the remedy. Deleted content is overwritten (secure_delete).
#pragma once

#include <QDateTime>
#include <QString>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/clinic/attention.h"
#include "app/clinic/limit_now.h"
#include "app/clinic_store/journal.h"
#include "app/measure/criteria.h"
#include "app/records/exercise_days_json.h"
#include "app/records/eye_picture.h"
#include "app/store/database.h"

namespace nearpoint {

using RowId = qint64;

struct Patient {
  RowId id = 0;
  QString name;
  QString number;  // of the clinic's own records; may be empty
  std::optional<int> birth_year;
};

// One line of the list.
struct PatientRow {
  Patient patient;
  int sessions = 0;
  std::optional<SessionDigest> newest;  // of the newest measurement
  Reasons reasons;                      // as of today
};

struct OfficeFinding {
  RowId id = 0;
  QString at;  // UTC
  QString by;
  ContextValues values;
  QString words;
};

struct StoredPlan {
  RowId id = 0;
  QString at;  // UTC
  QString by;
  ExercisePlan plan;
};

struct KeptMeasurement {
  RowId id = 0;
  RowId patient = 0;
  QString name;  // of the file it came in
  SessionDigest digest;
};

// A measurement with everything that it rests on.
struct MeasurementFile {
  KeptMeasurement measurement;
  std::string text;  // SESSION.json as it was received
  AuditLog review;   // verified
};

class ClinicStore {
 public:
  // The clock gives the time of day; tests give their own. kMismatch: not a clinic's file.
  [[nodiscard]] static Result<ClinicStore> Open(
      const QString& file, std::function<QDateTime()> clock = QDateTime::currentDateTimeUtc);

  [[nodiscard]] QString Setting(const QString& key, const QString& otherwise = QString()) const;
  Result<void> SetSetting(const QString& key, const QString& value);

  // kBadValue without a name.
  [[nodiscard]] Result<Patient> AddPatient(const Patient& patient);
  Result<void> UpdatePatient(const Patient& patient);
  // Somebody has looked at this patient today and found nothing to do.
  Result<void> MarkSeen(RowId patient, const QString& by, Day today);
  [[nodiscard]] Result<Patient> FindPatient(RowId id) const;
  // Those who need a look first; see Reasons::urgency. Then the newest measurement, then the name.
  [[nodiscard]] Result<std::vector<PatientRow>> Patients(Day today) const;

  // What this patient's measurements are held against today. Every digest that this store gives is
  // held against it.
  [[nodiscard]] Result<LimitNow> Limit(RowId patient) const;
  [[nodiscard]] Result<std::vector<KeptMeasurement>> Measurements(
      RowId patient) const;  // oldest first
  [[nodiscard]] Result<MeasurementFile> FindMeasurement(RowId id) const;
  // Lines of the track of that trial; "" where none were sent.
  [[nodiscard]] Result<std::string> Track(RowId measurement, int trial) const;
  // Of all its trials, by number and moment; empty where none were sent.
  [[nodiscard]] Result<std::vector<EyePicture>> EyePictures(RowId measurement) const;
  // One step of the review: checked, added to the log, and what the list says made anew. The
  // measurement itself stays as it was. Errors: those of AuditLog::Add and ApplyReview.
  Result<void> Review(RowId measurement, const AuditEntry& entry);

  // The device that measured it, by its card.
  [[nodiscard]] Result<QString> InstallationOf(RowId measurement) const;
  // Whether that server has taken this measurement in the state of its review, and that it has.
  [[nodiscard]] Result<bool> WasPushed(const MeasurementFile& file, const QString& server) const;
  Result<void> MarkPushed(const MeasurementFile& file, const QString& server, const QString& by);

  [[nodiscard]] Result<std::vector<OfficeFinding>> Findings(RowId patient) const;  // oldest first
  // kBadValue: CheckContext refuses it, or nobody is named.
  Result<void> AddFinding(RowId patient, const QString& by, const ContextValues& values,
                          const QString& words);
  [[nodiscard]] Result<std::vector<StoredPlan>> Plans(RowId patient) const;  // oldest first
  Result<void> AddPlan(RowId patient, const QString& by, const ExercisePlan& plan);
  // Of all devices of that patient, by day.
  [[nodiscard]] Result<std::vector<ExerciseDay>> ExerciseDays(RowId patient) const;

  // Makes what the list says of that patient anew from their measurements. Within the transaction
  // of the caller.
  Result<void> RefreshPatient(RowId patient) const;
  [[nodiscard]] Result<void> Log(const QString& by, const QString& act, RowId patient,
                                 const QString& object) const;
  [[nodiscard]] const Database& database() const { return database_; }
  [[nodiscard]] QDateTime Now() const { return clock_(); }
  // As it is written into the file.
  [[nodiscard]] QString NowText() const;

 private:
  [[nodiscard]] Result<std::vector<KeptMeasurement>> AsReceived(RowId patient) const;
  [[nodiscard]] std::optional<double> AgeOf(const std::optional<int>& birth_year) const;

  ClinicStore(Database database, std::function<QDateTime()> clock);
  Database database_;
  std::function<QDateTime()> clock_;
};

// Text as it lies in the file, and back; "" for what is damaged.
[[nodiscard]] QByteArray Shrink(const std::string& text);
[[nodiscard]] std::string Grow(const QByteArray& bytes);

}  // namespace nearpoint
