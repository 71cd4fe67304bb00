#include "app/store/eye_picture_store.h"

#include <QSqlQuery>

namespace nearpoint {
namespace {

QString ConsentKey(RowId person) { return QString("eye_pictures/%1").arg(person); }

Result<void> Done(const Result<QSqlQuery>& query) {
  if (!query) return tl::unexpected(query.error());
  return {};
}

QString Word(EyeMoment moment) {
  const std::string_view text = ToText(moment);
  return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}

}  // namespace

bool EyePictureStore::MayBeKept(RowId person) const {
  return person != 0 && store_.Setting(ConsentKey(person)).startsWith("yes");
}

Result<void> EyePictureStore::SetMayBeKept(RowId person, bool may) const {
  if (person == 0) return Fail(ErrorCode::kBadValue, "Nobody is chosen who could agree.");
  // With the day, so that it can be said since when.
  return store_.SetSetting(ConsentKey(person),
                           (may ? "yes " : "no ") + store_.Now().toUTC().toString(Qt::ISODate));
}

Result<void> EyePictureStore::Add(RowId session, const EyePicture& picture) const {
  if (!IsEyePicture(picture.jpeg)) {
    return Fail(ErrorCode::kBadValue, "This is no picture of the eyes as they are kept.");
  }
  auto trial = store_.database().Run("SELECT 1 FROM trial WHERE session = ? AND number = ?",
                                     {session, picture.trial});
  if (!trial) return tl::unexpected(trial.error());
  if (!trial->next()) {
    return Fail(ErrorCode::kBadValue,
                "The picture's trial " + std::to_string(picture.trial) + " is not in the file.");
  }
  return Done(store_.database().Run(
      "INSERT OR REPLACE INTO eye_picture (session, trial, moment, jpeg) VALUES (?, ?, ?, ?)",
      {session, picture.trial, Word(picture.moment), QByteArray::fromStdString(picture.jpeg)}));
}

Result<std::vector<EyePicture>> EyePictureStore::Of(RowId session) const {
  auto query = store_.database().Run(
      "SELECT trial, moment, jpeg FROM eye_picture WHERE session = ? ORDER BY trial, moment",
      {session});
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

Result<int> EyePictureStore::CountOf(RowId person) const {
  auto query = store_.database().Run(
      "SELECT COUNT(*) FROM eye_picture JOIN session ON session.id = eye_picture.session"
      " WHERE session.person = ?",
      {person});
  if (!query) return tl::unexpected(query.error());
  return query->next() ? query->value(0).toInt() : 0;
}

Result<void> EyePictureStore::DeleteAll(RowId person) const {
  const Database& database = store_.database();
  // Overwritten with zeros instead of being left in free pages, and the log of the database cut.
  if (auto set = database.Run("PRAGMA secure_delete = ON"); !set) return Done(set);
  if (auto gone = database.Run("DELETE FROM eye_picture WHERE session IN"
                               " (SELECT id FROM session WHERE person = ?)",
                               {person});
      !gone) {
    return Done(gone);
  }
  auto cut = database.Run("PRAGMA wal_checkpoint(TRUNCATE)");
  if (!cut) return Done(cut);
  if (cut->next() && cut->value(0).toInt() != 0) {
    return Fail(ErrorCode::kUnavailable,
                database.file().toStdString() +
                    ": another window of this program has it open. The pictures are deleted, but "
                    "bytes may remain in the file until every window is closed.");
  }
  return {};
}

}  // namespace nearpoint
