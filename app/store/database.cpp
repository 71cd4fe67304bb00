#include "app/store/database.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QSqlError>
#include <QUuid>
#include <utility>

namespace nearpoint {
namespace {

std::string Text(const QString& text) { return text.toStdString(); }

QSqlDatabase Handle(const QString& connection) {
  return QSqlDatabase::database(connection, /*open=*/false);
}

}  // namespace

Database::Database(QString connection, QString file)
    : connection_(std::move(connection)), file_(std::move(file)) {}

Database::Database(Database&& other) noexcept
    : connection_(std::exchange(other.connection_, QString())), file_(std::move(other.file_)) {}

Database::~Database() {
  if (connection_.isEmpty()) return;
  Handle(connection_).close();
  QSqlDatabase::removeDatabase(connection_);
}

Result<Database> Database::Open(const QString& file, const std::vector<Migration>& migrations) {
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
  {
    QSqlDatabase handle = QSqlDatabase::addDatabase("QSQLITE", connection);
    handle.setDatabaseName(file);
    handle.setConnectOptions("QSQLITE_BUSY_TIMEOUT=5000");
  }
  Database database(connection, file);
  QSqlDatabase handle = Handle(connection);
  if (!handle.isValid()) {
    return Fail(ErrorCode::kNotFound,
                "The SQLite part of Qt is missing; install the package libqt6sql6-sqlite.");
  }
  if (!handle.open()) {
    return Fail(ErrorCode::kNotWritable, Text(file) + ": this file cannot be opened for writing (" +
                                             Text(handle.lastError().databaseText()) + ").");
  }
  if (fresh) QFile::setPermissions(file, QFile::ReadOwner | QFile::WriteOwner);
  if (auto prepared = database.Prepare(); !prepared) return tl::unexpected(prepared.error());
  if (auto migrated = database.Migrate(migrations); !migrated)
    return tl::unexpected(migrated.error());
  return database;
}

Result<QSqlQuery> Database::Run(const QString& statement,
                                std::initializer_list<QVariant> values) const {
  QSqlQuery query(Handle(connection_));
  query.setForwardOnly(true);
  if (!query.prepare(statement)) return tl::unexpected(Explain(query.lastError()));
  for (const QVariant& value : values) query.addBindValue(value);
  if (!query.exec()) return tl::unexpected(Explain(query.lastError()));
  return query;
}

Result<void> Database::InTransaction(const std::function<Result<void>()>& work) const {
  if (auto begun = Run("BEGIN IMMEDIATE"); !begun) return tl::unexpected(begun.error());
  auto done = work();
  if (done) {
    const auto committed = Run("COMMIT");
    if (committed) return {};
    done = tl::unexpected(committed.error());
  }
  // What the rollback says no longer matters: the first error is the one to tell.
  static_cast<void>(Run("ROLLBACK"));
  return done;
}

Result<void> Database::Prepare() const {
  for (const char* pragma :
       {"PRAGMA journal_mode = WAL", "PRAGMA synchronous = FULL", "PRAGMA foreign_keys = ON"}) {
    if (auto set = Run(pragma); !set) return tl::unexpected(set.error());
  }
  return {};
}

Result<void> Database::Migrate(const std::vector<Migration>& migrations) const {
  const int newest = static_cast<int>(migrations.size());
  const auto version = [this]() -> Result<int> {
    auto query = Run("PRAGMA user_version");
    if (!query) return tl::unexpected(query.error());
    return query->next() ? query->value(0).toInt() : 0;
  };
  const auto before = version();
  if (!before) return tl::unexpected(before.error());
  if (*before == newest) return {};
  // Asked again under the lock: another instance may have done the work in the meantime.
  return InTransaction([&]() -> Result<void> {
    const auto now = version();
    if (!now) return tl::unexpected(now.error());
    if (*now > newest) {
      return Fail(ErrorCode::kMismatch,
                  Text(file_) + ": made by a newer version of this program (" +
                      std::to_string(*now) + "; this one knows up to " + std::to_string(newest) +
                      "). Install the newer version.");
    }
    for (int step = *now; step < newest; ++step) {
      for (const std::string_view statement : migrations[step].statements) {
        const auto done =
            Run(QString::fromUtf8(statement.data(), static_cast<qsizetype>(statement.size())));
        if (!done) return tl::unexpected(done.error());
      }
    }
    if (auto set = Run(QString("PRAGMA user_version = %1").arg(newest)); !set) {
      return tl::unexpected(set.error());
    }
    return {};
  });
}

Error Database::Explain(const QSqlError& error) const {
  const QString code = error.nativeErrorCode();
  const std::string detail = " (" + Text(error.databaseText()) + ").";
  // Result codes of SQLite; the lowest byte is the kind.
  const int kind = code.toInt() & 0xff;
  switch (kind) {
    case 5:  // SQLITE_BUSY
    case 6:  // SQLITE_LOCKED
      return {
          ErrorCode::kUnavailable,
          Text(file_) + ": another window of this program is writing to it; try again" + detail};
    case 8:   // SQLITE_READONLY
    case 10:  // SQLITE_IOERR
    case 13:  // SQLITE_FULL
    case 14:  // SQLITE_CANTOPEN
      return {ErrorCode::kNotWritable,
              Text(file_) +
                  ": this file cannot be written; make room on the disk or check the "
                  "permissions" +
                  detail};
    case 11:  // SQLITE_CORRUPT
    case 26:  // SQLITE_NOTADB
      return {ErrorCode::kUnreadable,
              Text(file_) +
                  ": this is not a file of this program or it is damaged; move it away "
                  "to start afresh" +
                  detail};
    default:
      return {ErrorCode::kBadValue, Text(file_) + ": the store refused a value" + detail};
  }
}

}  // namespace nearpoint
