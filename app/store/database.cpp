#include "app/store/database.h"

#include <QSqlError>
#include <utility>

#include "app/store/sqlite_file.h"

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

Database::~Database() { CloseConnection(connection_); }

Result<Database> Database::Open(const QString& file, const std::vector<Migration>& migrations) {
  auto connection = OpenSqliteFile(file);
  if (!connection) return tl::unexpected(connection.error());
  Database database(*std::move(connection), file);
  if (auto migrated = database.Migrate(migrations); !migrated) {
    return tl::unexpected(migrated.error());
  }
  return database;
}

Result<QSqlQuery> Database::Run(const QString& statement,
                                std::initializer_list<QVariant> values) const {
  QSqlQuery query(Handle(connection_));
  query.setForwardOnly(true);
  if (!query.prepare(statement)) return tl::unexpected(ExplainSqlite(query.lastError(), file_));
  for (const QVariant& value : values) query.addBindValue(value);
  if (!query.exec()) return tl::unexpected(ExplainSqlite(query.lastError(), file_));
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

}  // namespace nearpoint
