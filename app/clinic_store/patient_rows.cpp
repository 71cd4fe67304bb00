// The list of patients, and what it is made from.
#include <QSqlQuery>
#include <algorithm>
#include <tuple>

#include "app/clinic_store/clinic_store.h"
#include "app/clinic_store/rows.h"
#include "app/records/context_json.h"
#include "app/records/exercise_plan_json.h"

namespace nearpoint {
namespace {

std::optional<Day> DayOf(const QVariant& value) {
  return value.isNull() ? std::nullopt : ParseDay(value.toString().toStdString());
}

QVariant DayOrNull(const std::optional<Day>& day) {
  return day ? QVariant(rows::ToQt(DayToText(*day))) : QVariant(QMetaType::fromType<QString>());
}

QVariant TextOrNull(const std::string& text) {
  return text.empty() ? QVariant(QMetaType::fromType<QString>()) : QVariant(rows::ToQt(text));
}

// The day of a time in UTC, on the local calendar.
std::optional<Day> LocalDay(const QString& utc) {
  const QDate date = QDateTime::fromString(utc, Qt::ISODateWithMs).toLocalTime().date();
  return ParseDay(date.toString(Qt::ISODate).toStdString());
}

PlanState StateOf(const QSqlQuery& row, const std::optional<SessionDigest>& newest) {
  PlanState state;
  if (!row.value(7).isNull()) {
    // A plan of a newer program cannot be read; then nothing is asked for.
    if (auto plan = ParseExercisePlan(row.value(7).toString().toStdString(), "plan")) {
      state.plan = *std::move(plan);
    }
  }
  state.last_exercise = DayOf(row.value(8));
  state.last_comfort = row.value(9).toString().toStdString();
  state.last_comfort_day = DayOf(row.value(10));
  state.high_score_day = DayOf(row.value(11));
  state.seen = DayOf(row.value(12));
  if (newest && !newest->simulated) {
    state.last_measured = Day(std::chrono::days(static_cast<int>(std::floor(newest->day))));
  }
  return state;
}

}  // namespace

Result<std::vector<PatientRow>> ClinicStore::Patients(Day today) const {
  auto query = database_.Run(
      "SELECT id, name, number, birth_year, sessions, newest_json, session_reasons, plan_json, "
      "last_exercise, last_comfort, last_comfort_day, high_score_day, seen_day FROM patient");
  if (!query) return tl::unexpected(query.error());
  std::vector<PatientRow> list;
  while (query->next()) {
    PatientRow row;
    row.patient.id = query->value(0).toLongLong();
    row.patient.name = query->value(1).toString();
    row.patient.number = query->value(2).toString();
    if (!query->value(3).isNull()) row.patient.birth_year = query->value(3).toInt();
    row.sessions = query->value(4).toInt();
    if (!query->value(5).isNull()) {
      auto digest = ParseDigest(query->value(5).toString().toStdString(),
                                "patient " + std::to_string(row.patient.id));
      if (!digest) return tl::unexpected(digest.error());
      row.newest = *std::move(digest);
    }
    row.reasons = Reasons::FromStored(query->value(6).toUInt());
    if (row.newest) {
      const LimitNow limit = LimitFor(AgeOf(row.patient.birth_year), row.newest->cut_off);
      row.newest = HeldAgainst(*std::move(row.newest), limit);
      row.reasons = WithLimitOf(*row.newest, row.reasons);
    }
    row.reasons.Add(ReasonsFromPlan(StateOf(*query, row.newest), today));
    list.push_back(std::move(row));
  }
  std::ranges::sort(list, [](const PatientRow& a, const PatientRow& b) {
    const double day_a = a.newest ? a.newest->day : 0;
    const double day_b = b.newest ? b.newest->day : 0;
    return std::tuple(b.reasons.urgency(), day_b, a.patient.name, a.patient.id) <
           std::tuple(a.reasons.urgency(), day_a, b.patient.name, b.patient.id);
  });
  return list;
}

Result<std::vector<ExerciseDay>> ClinicStore::ExerciseDays(RowId patient) const {
  auto query = database_.Run("SELECT text FROM exercise_days WHERE patient = ?", {patient});
  if (!query) return tl::unexpected(query.error());
  std::vector<ExerciseDay> all;
  while (query->next()) {
    auto days = ParseExerciseDays(query->value(0).toString().toStdString(),
                                  "exercise days of patient " + std::to_string(patient));
    if (!days) return tl::unexpected(days.error());
    std::ranges::move(*days, std::back_inserter(all));
  }
  std::ranges::stable_sort(all, {}, [](const ExerciseDay& day) { return day.entry.day; });
  return all;
}

Result<std::vector<OfficeFinding>> ClinicStore::Findings(RowId patient) const {
  auto query = database_.Run(
      "SELECT id, at, by, context_json, words FROM finding WHERE patient = ? ORDER BY id",
      {patient});
  if (!query) return tl::unexpected(query.error());
  std::vector<OfficeFinding> findings;
  while (query->next()) {
    OfficeFinding finding;
    finding.id = query->value(0).toLongLong();
    finding.at = query->value(1).toString();
    finding.by = query->value(2).toString();
    auto values = ParseContext(query->value(3).toString().toStdString(),
                               "finding " + std::to_string(finding.id));
    if (!values) return tl::unexpected(values.error());
    finding.values = *values;
    finding.words = query->value(4).toString();
    findings.push_back(std::move(finding));
  }
  return findings;
}

Result<void> ClinicStore::AddFinding(RowId patient, const QString& by, const ContextValues& values,
                                     const QString& words) {
  if (auto checked = CheckContext(values, "Office findings"); !checked) return checked;
  if (by.trimmed().isEmpty()) return Fail(ErrorCode::kBadValue, "Who found it must be named.");
  return database_.InTransaction([&]() -> Result<void> {
    const auto added = database_.Run(
        "INSERT INTO finding (patient, at, by, context_json, words) VALUES (?, ?, ?, ?, ?)",
        {patient, NowText(), by, rows::ToQt(SerializeContext(values)), rows::Stored(words)});
    if (!added) return tl::unexpected(added.error());
    const QString number = QString::number(added->lastInsertId().toLongLong());
    if (auto fresh = RefreshPatient(patient); !fresh) return fresh;
    return Log(by, "finding", patient, number);
  });
}

Result<std::vector<StoredPlan>> ClinicStore::Plans(RowId patient) const {
  auto query = database_.Run("SELECT id, at, by, plan_json FROM plan WHERE patient = ? ORDER BY id",
                             {patient});
  if (!query) return tl::unexpected(query.error());
  std::vector<StoredPlan> plans;
  while (query->next()) {
    StoredPlan plan;
    plan.id = query->value(0).toLongLong();
    plan.at = query->value(1).toString();
    plan.by = query->value(2).toString();
    auto parsed = ParseExercisePlan(query->value(3).toString().toStdString(),
                                    "plan " + std::to_string(plan.id));
    if (!parsed) return tl::unexpected(parsed.error());
    plan.plan = *std::move(parsed);
    plans.push_back(std::move(plan));
  }
  return plans;
}

Result<void> ClinicStore::AddPlan(RowId patient, const QString& by, const ExercisePlan& plan) {
  const std::string text = SerializeExercisePlan(plan);
  // What the home program would refuse must not be prescribed.
  if (auto checked = ParseExercisePlan(text, "The plan"); !checked) {
    return tl::unexpected(checked.error());
  }
  return database_.InTransaction([&]() -> Result<void> {
    const auto added =
        database_.Run("INSERT INTO plan (patient, at, by, plan_json) VALUES (?, ?, ?, ?)",
                      {patient, NowText(), by, rows::ToQt(text)});
    if (!added) return tl::unexpected(added.error());
    const QString number = QString::number(added->lastInsertId().toLongLong());
    if (auto fresh = RefreshPatient(patient); !fresh) return fresh;
    return Log(by, "plan", patient, number);
  });
}

Result<void> ClinicStore::RefreshPatient(RowId patient) const {
  const auto measurements = Measurements(patient);
  if (!measurements) return tl::unexpected(measurements.error());
  const auto plans = Plans(patient);
  if (!plans) return tl::unexpected(plans.error());
  const auto findings = Findings(patient);
  if (!findings) return tl::unexpected(findings.error());
  const auto exercised = ExerciseDays(patient);
  if (!exercised) return tl::unexpected(exercised.error());

  std::vector<SessionDigest> digests;
  for (const KeptMeasurement& measurement : *measurements) digests.push_back(measurement.digest);
  std::optional<Day> last_exercise;
  std::optional<Day> comfort_day;
  std::string comfort;
  for (const ExerciseDay& day : *exercised) {
    if (day.entry.counted > 0) last_exercise = day.entry.day;
    if (day.comfort.empty()) continue;
    comfort = day.comfort;
    comfort_day = day.entry.day;
  }
  std::optional<Day> high_score;
  if (!findings->empty() && SymptomStatus(findings->back().values) == Status::kMet) {
    high_score = LocalDay(findings->back().at);
  }
  return rows::Done(database_.Run(
      "UPDATE patient SET sessions = ?, newest_json = ?, session_reasons = ?, plan_json = ?, "
      "last_exercise = ?, last_comfort = ?, last_comfort_day = ?, high_score_day = ? WHERE id = ?",
      {static_cast<int>(digests.size()),
       TextOrNull(digests.empty() ? std::string() : SerializeDigest(digests.back())),
       ReasonsFromSessions(digests).stored(),
       TextOrNull(plans->empty() ? std::string() : SerializeExercisePlan(plans->back().plan)),
       DayOrNull(last_exercise), TextOrNull(comfort), DayOrNull(comfort_day), DayOrNull(high_score),
       patient}));
}

}  // namespace nearpoint
