#include "app/event_store/event_database.h"

#include <QSqlError>
#include <QUrl>
#include <QUrlQuery>
#include <QUuid>
#include <utility>

#include "app/event_store/event_migrations.h"
#include "app/store/sqlite_file.h"

namespace nearpoint {
namespace {

// Any number that nothing else on the server uses: who holds it migrates.
constexpr const char* kMigrationLock = "SELECT pg_advisory_xact_lock(7103512904)";

constexpr const char* kTwoOfOneIdentity =
    ": two stations carry the same identity; was the folder of one copied to another laptop? Give "
    "the copy a fresh folder";

std::string Text(const QString& text) { return text.toStdString(); }

QSqlDatabase Handle(const QString& connection) {
  return QSqlDatabase::database(connection, /*open=*/false);
}

bool IsThisMachine(const QString& host) {
  return host.isEmpty() || host.startsWith('/') || host == "localhost" || host == "127.0.0.1" ||
         host == "::1";
}

struct Server {
  QString host, database, user, shown;
  int port = 0;
};

Result<Server> ReadAddress(const QString& address) {
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
  constexpr int kUsualPort = 5432;
  return Server{host, url.path().mid(1), url.userName(),
                url.toString(QUrl::RemoveUserInfo | QUrl::RemoveQuery), url.port(kUsualPort)};
}

// A value of a connection string. Qt takes a semicolon for the end of it, whatever stands around.
Result<QString> Quoted(const QString& value) {
  if (value.contains(';')) {
    return Fail(ErrorCode::kBadValue,
                Text(value) +
                    ": a path with a semicolon cannot be handed on; choose another "
                    "folder.");
  }
  QString quoted = value;
  quoted.replace('\\', "\\\\").replace('\'', "\\'");
  return '\'' + quoted + '\'';
}

Result<QString> ConnectOptions(const ServerAccess& access, const Server& server) {
  // A cable that was pulled is noticed within seconds.
  QString options =
      "connect_timeout=3;keepalives_idle=4;keepalives_interval=2;keepalives_count=2;"
      "tcp_user_timeout=6000";
  if (!access.password_file.isEmpty()) {
    auto file = Quoted(access.password_file);
    if (!file) return file;
    options += ";passfile=" + *file;
  }
  if (IsThisMachine(server.host)) return options;
  if (access.certificate_file.isEmpty()) {
    return Fail(ErrorCode::kInsufficient,
                Text(server.shown) +
                    ": without its certificate nobody can tell whether this is the event's "
                    "server; join with the file that the server's laptop wrote.");
  }
  auto file = Quoted(access.certificate_file);
  if (!file) return file;
  return options + ";sslmode=verify-full;sslrootcert=" + *file;
}

}  // namespace

EventDatabase::EventDatabase(QString connection, QString place, bool server)
    : connection_(std::move(connection)), place_(std::move(place)), server_(server) {}

EventDatabase::EventDatabase(EventDatabase&& other) noexcept
    : connection_(std::exchange(other.connection_, QString())),
      place_(std::move(other.place_)),
      server_(other.server_) {}

EventDatabase::~EventDatabase() { CloseConnection(connection_); }

Result<EventDatabase> EventDatabase::OpenFile(const QString& file) {
  auto connection = OpenSqliteFile(file);
  if (!connection) return tl::unexpected(connection.error());
  EventDatabase database(*std::move(connection), file, false);
  if (auto prepared = database.Prepare(); !prepared) return tl::unexpected(prepared.error());
  if (auto migrated = database.Migrate(); !migrated) return tl::unexpected(migrated.error());
  return database;
}

Result<void> CheckAddress(const QString& address) {
  const auto server = ReadAddress(address);
  if (!server) return tl::unexpected(server.error());
  return {};
}

Result<EventDatabase> EventDatabase::OpenServer(const ServerAccess& access) {
  const auto server = ReadAddress(access.address);
  if (!server) return tl::unexpected(server.error());
  const auto options = ConnectOptions(access, *server);
  if (!options) return tl::unexpected(options.error());
  const QString connection = QUuid::createUuid().toString();
  {
    QSqlDatabase handle = QSqlDatabase::addDatabase("QPSQL", connection);
    handle.setHostName(server->host);
    handle.setPort(server->port);
    handle.setDatabaseName(server->database);
    handle.setUserName(server->user);
    handle.setConnectOptions(*options);
  }
  EventDatabase database(connection, server->shown, true);
  QSqlDatabase handle = Handle(connection);
  if (!handle.isValid()) {
    return Fail(ErrorCode::kNotFound,
                "The PostgreSQL part of Qt is missing; install the package libqt6sql6-psql.");
  }
  if (!handle.open()) {
    const std::string why = Text(handle.lastError().databaseText().simplified());
    // libpq has no code for it, and its sentences are of the language of the machine but for the
    // word.
    const bool refused = why.find("certificate") != std::string::npos;
    return Fail(refused ? ErrorCode::kMismatch : ErrorCode::kUnavailable,
                Text(database.place_) +
                    (refused ? ": this is not the event's server, or its certificate is another "
                               "one by now; nothing was sent. Join with the file that the "
                               "server's laptop wrote when it was started ("
                             : ": the event's server cannot be reached (") +
                    why + ").");
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
              : QStringList{"PRAGMA secure_delete = ON",
                            // No copy of the children in a file elsewhere while it is rewritten.
                            "PRAGMA temp_store = MEMORY"};
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
      return {ErrorCode::kMismatch, place + kTwoOfOneIdentity + detail};
    }
    return {ErrorCode::kBadValue, place + ": the event's server refused a value" + detail};
  }
  if (!IsConstraint(error)) return ExplainSqlite(error, place_);
  return {ErrorCode::kMismatch, place + kTwoOfOneIdentity + detail};
}

}  // namespace nearpoint
