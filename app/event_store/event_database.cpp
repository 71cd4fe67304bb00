#include "app/event_store/event_database.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QSqlError>
#include <QUrl>
#include <QUrlQuery>
#include <QUuid>
#include <utility>

#include "app/event_store/event_migrations.h"

namespace nearpoint {
namespace {

// Any number that nothing else on the server uses: who holds it migrates.
constexpr const char* kMigrationLock = "SELECT pg_advisory_xact_lock(7103512904)";

std::string Text(const QString& text) { return text.toStdString(); }

QSqlDatabase Handle(const QString& connection) {
  return QSqlDatabase::database(connection, /*open=*/false);
}

bool IsThisMachine(const QString& host) {
  return host.isEmpty() || host.startsWith('/') || host == "localhost" || host == "127.0.0.1" ||
         host == "::1";
}

}  // namespace

EventDatabase::EventDatabase(QString connection, QString place, bool server)
    : connection_(std::move(connection)), place_(std::move(place)), server_(server) {}

EventDatabase::EventDatabase(EventDatabase&& other) noexcept
    : connection_(std::exchange(other.connection_, QString())),
      place_(std::move(other.place_)),
      server_(other.server_) {}

EventDatabase::~EventDatabase() {
  if (connection_.isEmpty()) return;
  Handle(connection_).close();
  QSqlDatabase::removeDatabase(connection_);
}

Result<EventDatabase> EventDatabase::OpenFile(const QString& file) {
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
  EventDatabase database(connection, file, false);
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
  if (auto migrated = database.Migrate(); !migrated) return tl::unexpected(migrated.error());
  return database;
}

Result<EventDatabase> EventDatabase::OpenServer(const QString& address) {
  const QUrl url(address, QUrl::StrictMode);
  const QString socket = QUrlQuery(url).queryItemValue("host", QUrl::FullyDecoded);
  const QString host = socket.isEmpty() ? url.host() : socket;
  if (!url.isValid() || url.scheme() != "postgresql" || host.isEmpty() || url.path().size() < 2 ||
      url.userName().isEmpty()) {
    return Fail(ErrorCode::kBadValue, "\"" + Text(address) +
                                          "\" is no address of a server; expected "
                                          "postgresql://USER@HOST:PORT/NAME.");
  }
  if (!url.password().isEmpty()) {
    return Fail(ErrorCode::kBadValue,
                "The address of the server has a password in it, where others can read it; write "
                "it into the file ~/.pgpass instead.");
  }
  const QString connection = QUuid::createUuid().toString();
  {
    QSqlDatabase handle = QSqlDatabase::addDatabase("QPSQL", connection);
    handle.setHostName(host);
    handle.setPort(url.port(5432));
    handle.setDatabaseName(url.path().mid(1));
    handle.setUserName(url.userName());
    // A cable that was pulled is noticed within seconds.
    handle.setConnectOptions(
        QString("connect_timeout=3;keepalives_idle=4;keepalives_interval=2;keepalives_count=2;"
                "tcp_user_timeout=6000") +
        (IsThisMachine(host) ? "" : ";sslmode=require"));
  }
  EventDatabase database(connection, url.toString(QUrl::RemoveUserInfo | QUrl::RemoveQuery), true);
  QSqlDatabase handle = Handle(connection);
  if (!handle.isValid()) {
    return Fail(ErrorCode::kNotFound,
                "The PostgreSQL part of Qt is missing; install the package libqt6sql6-psql.");
  }
  if (!handle.open()) {
    return Fail(ErrorCode::kUnavailable,
                Text(database.place_) + ": the event's server cannot be reached (" +
                    Text(handle.lastError().databaseText().simplified()) + ").");
  }
  if (auto prepared = database.Prepare(); !prepared) return tl::unexpected(prepared.error());
  if (auto migrated = database.Migrate(); !migrated) return tl::unexpected(migrated.error());
  return database;
}

Result<QSqlQuery> EventDatabase::Run(const QString& statement, const QVariantList& values) const {
  QSqlQuery query(Handle(connection_));
  query.setForwardOnly(true);
  if (values.isEmpty()) {
    if (!query.exec(statement)) return tl::unexpected(Explain(query.lastError()));
    return query;
  }
  if (!query.prepare(statement)) return tl::unexpected(Explain(query.lastError()));
  for (const QVariant& value : values) query.addBindValue(value);
  if (!query.exec()) return tl::unexpected(Explain(query.lastError()));
  return query;
}

Result<void> EventDatabase::RunEach(const QString& statement,
                                    const std::vector<QVariantList>& rows) const {
  if (rows.empty()) return {};
  QSqlQuery query(Handle(connection_));
  if (!query.prepare(statement)) return tl::unexpected(Explain(query.lastError()));
  for (const QVariantList& row : rows) {
    for (int i = 0; i < row.size(); ++i) query.bindValue(i, row[i]);
    if (!query.exec()) return tl::unexpected(Explain(query.lastError()));
  }
  return {};
}

Result<void> EventDatabase::InTransaction(const std::function<Result<void>()>& work) const {
  if (auto begun = Run(server_ ? "BEGIN" : "BEGIN IMMEDIATE"); !begun) {
    return tl::unexpected(begun.error());
  }
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

Result<void> EventDatabase::Prepare() const {
  const QStringList statements =
      // A station that vanishes in the middle of handing over must not hold the others up: the
      // server gives its transaction up, and nobody waits long for a lock.
      server_ ? QStringList{"SET statement_timeout = 15000", "SET lock_timeout = 3000",
                            "SET idle_in_transaction_session_timeout = 5000",
                            "SET client_min_messages = warning"}
              : QStringList{"PRAGMA journal_mode = WAL", "PRAGMA synchronous = FULL",
                            "PRAGMA foreign_keys = ON", "PRAGMA secure_delete = ON"};
  for (const QString& statement : statements) {
    if (auto set = Run(statement); !set) return tl::unexpected(set.error());
  }
  return {};
}

Result<int> EventDatabase::Version() const {
  const auto made = Run("CREATE TABLE IF NOT EXISTS schema_version (version INTEGER NOT NULL)");
  if (!made) return tl::unexpected(made.error());
  auto query = Run("SELECT MAX(version) FROM schema_version");
  if (!query) return tl::unexpected(query.error());
  return query->next() ? query->value(0).toInt() : 0;
}

Result<void> EventDatabase::Migrate() const {
  const auto& migrations = AllEventMigrations();
  const int newest = static_cast<int>(migrations.size());
  return InTransaction([&]() -> Result<void> {
    // Stations that start together wait for the one that was first.
    if (server_) {
      if (auto locked = Run(kMigrationLock); !locked) return tl::unexpected(locked.error());
    }
    const auto now = Version();
    if (!now) return tl::unexpected(now.error());
    if (*now > newest) {
      return Fail(ErrorCode::kMismatch,
                  Text(place_) + ": made by a newer version of this program (" +
                      std::to_string(*now) + "; this one knows up to " + std::to_string(newest) +
                      "). Install the newer version.");
    }
    for (int step = *now; step < newest; ++step) {
      for (const std::string_view statement : migrations[step].statements) {
        const auto done =
            Run(QString::fromUtf8(statement.data(), static_cast<qsizetype>(statement.size())));
        if (!done) return tl::unexpected(done.error());
      }
      const auto noted = Run("INSERT INTO schema_version (version) VALUES (?)", {step + 1});
      if (!noted) return tl::unexpected(noted.error());
    }
    return {};
  });
}

Error EventDatabase::Explain(const QSqlError& error) const {
  const QString code = error.nativeErrorCode();
  const std::string detail = " (" + Text(error.databaseText().simplified()) + ").";
  const std::string place = Text(place_);
  if (server_) {
    // SQLSTATE: class 08 connection, 57 the operator stopped it, 25P03 and 55P03 took too long,
    // 23505 a value that must be unique.
    // Without a code the connection broke in the middle.
    if (code.isEmpty() || code.startsWith("08") || code.startsWith("57") || code == "25P03" ||
        code == "55P03") {
      return {ErrorCode::kUnavailable,
              place + ": the event's server is not reachable now" + detail};
    }
    if (code == "23505") {
      return {ErrorCode::kMismatch,
              place +
                  ": two stations carry the same identity; was the folder of one copied to "
                  "another laptop? Give the copy a fresh folder" +
                  detail};
    }
    return {ErrorCode::kBadValue, place + ": the event's server refused a value" + detail};
  }
  // Result codes of SQLite; the lowest byte is the kind.
  switch (code.toInt() & 0xff) {
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
              place + ": this is not a file of this program or it is damaged" + detail};
    case 19:  // SQLITE_CONSTRAINT
      return {ErrorCode::kMismatch,
              place +
                  ": two stations carry the same identity; was the folder of one copied to "
                  "another laptop? Give the copy a fresh folder" +
                  detail};
    default:
      return {ErrorCode::kBadValue, place + ": the store refused a value" + detail};
  }
}

}  // namespace nearpoint
