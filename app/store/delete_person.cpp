#include "app/store/delete_person.h"

#include <QSqlQuery>

namespace nearpoint {
namespace {

Result<void> Cleared(const Database& database) {
  // The log of the database holds old pages until it is cut.
  if (auto vacuumed = database.Run("VACUUM"); !vacuumed) return tl::unexpected(vacuumed.error());
  auto cut = database.Run("PRAGMA wal_checkpoint(TRUNCATE)");
  if (!cut) return tl::unexpected(cut.error());
  if (cut->next() && cut->value(0).toInt() != 0) {
    return Fail(ErrorCode::kUnavailable,
                database.file().toStdString() +
                    ": another window of this program has it open. The person is deleted, but "
                    "bytes may remain in the file until every window is closed.");
  }
  return {};
}

}  // namespace

Result<PersonHoldings> HoldingsOf(const Store& store, RowId person) {
  auto query = store.database().Run(
      "SELECT (SELECT COUNT(*) FROM session WHERE person = p.id),"
      " (SELECT COUNT(*) FROM trial JOIN session ON session.id = trial.session"
      "  WHERE session.person = p.id),"
      " (SELECT COUNT(*) FROM exercise_session WHERE person = p.id),"
      " (SELECT COUNT(*) FROM exercise_plan WHERE person = p.id),"
      " (SELECT COUNT(*) FROM calibration WHERE person = p.id),"
      " (SELECT COUNT(*) FROM eye_picture JOIN session ON session.id = eye_picture.session"
      "  WHERE session.person = p.id) FROM person AS p WHERE p.id = ?",
      {person});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) {
    return Fail(ErrorCode::kNotFound, "This person is not in the store any more.");
  }
  PersonHoldings holdings;
  holdings.measurements = query->value(0).toInt();
  holdings.trials = query->value(1).toInt();
  holdings.exercises = query->value(2).toInt();
  holdings.plans = query->value(3).toInt();
  holdings.calibrations = query->value(4).toInt();
  holdings.eye_pictures = query->value(5).toInt();
  return holdings;
}

Result<void> DeletePerson(Store& store, RowId person) {
  const Database& database = store.database();
  if (auto set = database.Run("PRAGMA secure_delete = ON"); !set) {
    return tl::unexpected(set.error());
  }
  auto deleted = database.InTransaction([&]() -> Result<void> {
    // Sessions, trials, pictures, calibrations and the exercise go with the person
    // (migrations.cpp).
    const auto gone = database.Run("DELETE FROM person WHERE id = ?", {person});
    if (!gone) return tl::unexpected(gone.error());
    if (gone->numRowsAffected() == 0) {
      return Fail(ErrorCode::kNotFound, "This person is not in the store any more.");
    }
    const auto settings =
        database.Run("DELETE FROM setting WHERE key = ? OR (key = 'person' AND value = ?)",
                     {QString("eye_pictures/%1").arg(person), QString::number(person)});
    if (!settings) return tl::unexpected(settings.error());
    return {};
  });
  if (!deleted) return deleted;
  return Cleared(database);
}

Result<void> ForgetServer(Store& store) {
  const auto gone =
      store.database().Run("DELETE FROM setting WHERE key = 'fhir_server' OR key LIKE 'left:%'");
  if (!gone) return tl::unexpected(gone.error());
  return Cleared(store.database());
}

}  // namespace nearpoint
