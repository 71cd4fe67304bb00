#include "app/store/exercise_store.h"

#include <QSqlQuery>

#include "app/exercise/summary.h"
#include "app/records/exercise_plan_json.h"

namespace nearpoint {
namespace {

constexpr const char* kColumns =
    "SELECT id, person, practice, day, plan_json, level, pupils_mm, pupils_sd_mm, screen_sd_mm, "
    "mm_per_dot, started_at, ended_at, comfort FROM exercise_session";
constexpr const char* kAttemptColumns =
    "SELECT number, start_ms, end_ms, separation_mm, asked_mm, why, held_s, fusing_s, reach_mm, "
    "reach_sd_mm, reach_shared_sd_mm, eye FROM exercise_attempt WHERE session = ? ORDER BY number";

QString ToQt(std::string_view text) {
  return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}
QString TimeText(const QDateTime& time) { return time.toUTC().toString(Qt::ISODateWithMs); }
QDateTime ToTime(const QVariant& text) {
  return QDateTime::fromString(text.toString(), Qt::ISODateWithMs).toUTC();
}
Length Mm(const QVariant& value) { return Length::Millimeters(value.toDouble()); }
QVariant PersonOrNull(RowId person) {
  return person == 0 ? QVariant(QMetaType::fromType<RowId>()) : QVariant(person);
}
QVariant NumberOrNull(std::optional<double> value) {
  return value ? QVariant(*value) : QVariant(QMetaType::fromType<double>());
}
QVariant TextOrNull(std::string_view text) {
  return text.empty() ? QVariant(QMetaType::fromType<QString>()) : QVariant(ToQt(text));
}
std::string_view EyeWord(const std::optional<DriftingEye>& eye) {
  if (eye == DriftingEye::kLeft) return "left";
  return eye == DriftingEye::kRight ? "right" : "";
}

Result<void> Done(const Result<QSqlQuery>& query) {
  if (!query) return tl::unexpected(query.error());
  return {};
}

Attempt AttemptOf(const QSqlQuery& row) {
  Attempt a;
  a.number = row.value(0).toInt();
  a.start = FromMilliseconds(row.value(1).toDouble());
  a.end = FromMilliseconds(row.value(2).toDouble());
  a.separation = Mm(row.value(3));
  a.asked = Mm(row.value(4));
  // A word of a newer program still means that it does not count.
  if (!row.value(5).isNull()) {
    a.why = ParseNotCounted(row.value(5).toString().toStdString()).value_or(NotCounted::kStopped);
  }
  a.held_s = row.value(6).toDouble();
  if (!row.value(7).isNull()) a.fusing_s = row.value(7).toDouble();
  if (!row.value(8).isNull()) {
    a.reach = UncertainLength{Mm(row.value(8)), Mm(row.value(9))};
    a.reach_shared_sd = Mm(row.value(10));
  }
  if (row.value(11).toString() == "left") a.eye = DriftingEye::kLeft;
  if (row.value(11).toString() == "right") a.eye = DriftingEye::kRight;
  return a;
}

Result<StoredExercise> SessionOf(const QSqlQuery& row) {
  StoredExercise s;
  s.id = row.value(0).toLongLong();
  s.setup.person = row.value(1).toLongLong();
  s.setup.practice = row.value(2).toBool();
  const auto day = ParseDay(row.value(3).toString().toStdString());
  const auto plan = ParseExercisePlan(row.value(4).toString().toStdString(),
                                      "exercise session " + std::to_string(s.id));
  if (!plan) return tl::unexpected(plan.error());
  if (!day) {
    return Fail(ErrorCode::kBadValue, "exercise session " + std::to_string(s.id) +
                                          ": \"day\" is not a date as YYYY-MM-DD.");
  }
  s.setup.day = *day;
  s.setup.plan = *plan;
  s.setup.level = row.value(5).toInt();
  s.setup.view.pupils = {Mm(row.value(6)), Mm(row.value(7))};
  s.setup.view.screen.sd = Mm(row.value(8));
  s.setup.mm_per_dot = row.value(9).toDouble();
  s.started_at = ToTime(row.value(10));
  if (!row.value(11).isNull()) s.ended_at = ToTime(row.value(11));
  s.comfort = row.value(12).toString();
  return s;
}

}  // namespace

Result<ExercisePlan> ExerciseStore::Plan(RowId person) const {
  auto query = store_.database().Run(
      "SELECT plan_json FROM exercise_plan WHERE person IS ? ORDER BY id DESC LIMIT 1",
      {PersonOrNull(person)});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) return CommonPracticePlan();
  return ParseExercisePlan(query->value(0).toString().toStdString(), "exercise plan in the store");
}

Result<void> ExerciseStore::SetPlan(RowId person, const ExercisePlan& plan) {
  return Done(store_.database().Run(
      "INSERT INTO exercise_plan (person, set_at, plan_json) VALUES (?, ?, ?)",
      {PersonOrNull(person), TimeText(store_.Now()), ToQt(SerializeExercisePlan(plan))}));
}

Result<RowId> ExerciseStore::Begin(const ExerciseSetup& setup) {
  const auto query = store_.database().Run(
      "INSERT INTO exercise_session (person, day, started_at, practice, plan_json, level, "
      "pupils_mm, pupils_sd_mm, screen_sd_mm, mm_per_dot) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
      {PersonOrNull(setup.person), ToQt(DayToText(setup.day)), TimeText(store_.Now()),
       setup.practice, ToQt(SerializeExercisePlan(setup.plan)), setup.level,
       setup.view.pupils.value.mm(), setup.view.pupils.sd.mm(), setup.view.screen.sd.mm(),
       setup.mm_per_dot});
  if (!query) return tl::unexpected(query.error());
  return query->lastInsertId().toLongLong();
}

Result<void> ExerciseStore::AddAttempt(RowId session, const Attempt& a) {
  const std::optional<double> none;
  return Done(store_.database().Run(
      "INSERT INTO exercise_attempt (session, number, stored_at, start_ms, end_ms, separation_mm, "
      "asked_mm, why, held_s, fusing_s, reach_mm, reach_sd_mm, reach_shared_sd_mm, eye) "
      "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
      {session, a.number, TimeText(store_.Now()), ToMilliseconds(a.start), ToMilliseconds(a.end),
       a.separation.mm(), a.asked.mm(), TextOrNull(a.why ? ToText(*a.why) : ""), a.held_s,
       NumberOrNull(a.fusing_s), NumberOrNull(a.reach ? a.reach->value.mm() : none),
       NumberOrNull(a.reach ? a.reach->sd.mm() : none),
       NumberOrNull(a.reach ? a.reach_shared_sd.mm() : none), TextOrNull(EyeWord(a.eye))}));
}

Result<void> ExerciseStore::End(RowId session, const QString& comfort) {
  return Done(
      store_.database().Run("UPDATE exercise_session SET ended_at = ?, comfort = ? WHERE id = ?",
                            {TimeText(store_.Now()), comfort, session}));
}

Result<std::vector<StoredExercise>> ExerciseStore::Sessions(RowId person) const {
  auto query =
      store_.database().Run(QString(kColumns) + " WHERE person IS ? AND practice = 0 ORDER BY id",
                            {PersonOrNull(person)});
  if (!query) return tl::unexpected(query.error());
  std::vector<StoredExercise> sessions;
  while (query->next()) {
    auto session = SessionOf(*query);
    if (!session) return tl::unexpected(session.error());
    sessions.push_back(*std::move(session));
  }
  for (StoredExercise& session : sessions) {
    auto attempts = store_.database().Run(kAttemptColumns, {session.id});
    if (!attempts) return tl::unexpected(attempts.error());
    while (attempts->next()) session.attempts.push_back(AttemptOf(*attempts));
  }
  return sessions;
}

Result<StoredExercise> ExerciseStore::Find(RowId id) const {
  auto query = store_.database().Run(QString(kColumns) + " WHERE id = ?", {id});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) {
    return Fail(ErrorCode::kNotFound, "This exercise session is not in the store.");
  }
  auto session = SessionOf(*query);
  if (!session) return session;
  auto attempts = store_.database().Run(kAttemptColumns, {id});
  if (!attempts) return tl::unexpected(attempts.error());
  while (attempts->next()) session->attempts.push_back(AttemptOf(*attempts));
  return session;
}

std::vector<DiaryEntry> DiaryEntries(const std::vector<StoredExercise>& sessions) {
  std::vector<DiaryEntry> entries;
  for (const StoredExercise& s : sessions) {
    if (s.attempts.empty()) continue;
    const ExerciseSummary summary = Summarise(s.attempts, s.setup.plan.repetitions, s.setup.view);
    entries.push_back({s.setup.day, summary.counted, summary.asked, summary.reach});
  }
  return entries;
}

std::vector<LevelResult> LevelResults(const std::vector<StoredExercise>& sessions,
                                      const ExercisePlan& plan) {
  std::vector<LevelResult> results;
  for (const StoredExercise& s : sessions) {
    if (s.attempts.empty() || s.setup.plan.levels != plan.levels) continue;
    const auto counted =
        std::ranges::count_if(s.attempts, [](const Attempt& a) { return a.counted(); });
    results.push_back({s.setup.level, static_cast<int>(counted), s.setup.plan.repetitions});
  }
  return results;
}

}  // namespace nearpoint
