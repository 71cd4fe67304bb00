#include "app/store/sqlite_file.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QSqlDatabase>
#include <QSqlQuery>
#include <QUuid>

namespace nearpoint {
namespace {

std::string Text(const QString& text) { return text.toStdString(); }

// Result codes of SQLite; the lowest byte is the kind.
int KindOf(const QSqlError& error) { return error.nativeErrorCode().toInt() & 0xff; }

constexpr int kConstraint = 19;  // SQLITE_CONSTRAINT

Result<void> OpenConnection(const QString& connection, const QString& file) {
  QSqlDatabase handle = QSqlDatabase::addDatabase("QSQLITE", connection);
  if (!handle.isValid()) {
    return Fail(ErrorCode::kNotFound,
                "The SQLite part of Qt is missing; install the package libqt6sql6-sqlite.");
  }
  handle.setDatabaseName(file);
  handle.setConnectOptions("QSQLITE_BUSY_TIMEOUT=5000");
  if (!handle.open()) {
    return Fail(ErrorCode::kNotWritable, Text(file) + ": this file cannot be opened for writing (" +
                                             Text(handle.lastError().databaseText()) + ").");
  }
  for (const char* pragma :
       {"PRAGMA journal_mode = WAL", "PRAGMA synchronous = FULL", "PRAGMA foreign_keys = ON"}) {
    QSqlQuery query(handle);
    if (!query.exec(pragma)) return tl::unexpected(ExplainSqlite(query.lastError(), file));
  }
  return {};
}

}  // namespace

Result<QString> OpenSqliteFile(const QString& file) {
  const QFileInfo info(file);
  const QDir folder = info.absoluteDir();
  if (!folder.exists()) {
    if (!QDir().mkpath(folder.path())) {
      return Fail(ErrorCode::kNotWritable, Text(folder.path()) + ": this folder cannot be made.");
    }
    QFile::setPermissions(folder.path(), QFile::ReadOwner | QFile::WriteOwner | QFile::ExeOwner);
  }
  const bool fresh = !info.exists();
  const QString connection = QUuid::createUuid().toString();
  const auto opened = OpenConnection(connection, file);
  if (fresh) QFile::setPermissions(file, QFile::ReadOwner | QFile::WriteOwner);
  if (opened) return connection;
  CloseConnection(connection);
  return tl::unexpected(opened.error());
}

void CloseConnection(const QString& connection) {
  if (connection.isEmpty()) return;
  QSqlDatabase::database(connection, /*open=*/false).close();
  QSqlDatabase::removeDatabase(connection);
}

Error ExplainSqlite(const QSqlError& error, const QString& file) {
  const std::string place = Text(file);
  const std::string detail = " (" + Text(error.databaseText().simplified()) + ").";
  switch (KindOf(error)) {
    case 5:  // SQLITE_BUSY
    case 6:  // SQLITE_LOCKED
      return {ErrorCode::kUnavailable,
              place + ": another window of this program is writing to it; try again" + detail};
    case 8:   // SQLITE_READONLY
    case 10:  // SQLITE_IOERR
    case 13:  // SQLITE_FULL
    case 14:  // SQLITE_CANTOPEN
      return {ErrorCode::kNotWritable,
              place +
                  ": this file cannot be written; make room on the disk or check the "
                  "permissions" +
                  detail};
    case 11:  // SQLITE_CORRUPT
    case 26:  // SQLITE_NOTADB
      return {ErrorCode::kUnreadable,
              place +
                  ": this is not a file of this program or it is damaged; move it away "
                  "to start afresh" +
                  detail};
    default:
      return {ErrorCode::kBadValue, place + ": the store refused a value" + detail};
  }
}

bool IsConstraint(const QSqlError& error) { return KindOf(error) == kConstraint; }

}  // namespace nearpoint
