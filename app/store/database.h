// One connection to the file of this program: opened, brought to the newest version, and safe
// against a second instance and a power cut.
#pragma once

#include <QByteArray>
#include <QSqlDatabase>
#include <QSqlQuery>
#include <QString>
#include <QVariant>
#include <functional>
#include <initializer_list>

#include "app/store/migrations.h"
#include "vision/core/result.h"

namespace nearpoint {

// Used by the thread that opened it alone. Write-ahead log with a full sync at each commit: what
// was committed survives a kill and a power cut. A second instance waits up to five seconds for its
// turn, then fails with kUnavailable.
class Database {
 public:
  // Makes the folder (readable by its owner alone) and the file if absent; `migrations`: the shape
  // of this kind of file. Errors: kNotWritable, kUnreadable (not a file of this kind), kMismatch
  // (made by a newer version of the program).
  [[nodiscard]] static Result<Database> Open(
      const QString& file, const std::vector<Migration>& migrations = AllMigrations());
  Database(Database&& other) noexcept;
  Database& operator=(Database&& other) = delete;
  ~Database();

  // Runs one statement with its values in the order of the question marks.
  [[nodiscard]] Result<QSqlQuery> Run(const QString& statement,
                                      std::initializer_list<QVariant> values = {}) const;
  // All of `work` or nothing. The write lock is taken at the start, so that what `work` reads stays
  // true until it ends.
  [[nodiscard]] Result<void> InTransaction(const std::function<Result<void>()>& work) const;

  [[nodiscard]] const QString& file() const { return file_; }

 private:
  Database(QString connection, QString file);
  [[nodiscard]] Result<void> Migrate(const std::vector<Migration>& migrations) const;

  QString connection_;  // empty: moved from
  QString file_;
};

}  // namespace nearpoint
