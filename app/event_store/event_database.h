// One connection to where an event's records lie: the file of a station (SQLite) or the server of
// the event (PostgreSQL). Both have the same tables, made by the same migrations.
#pragma once

#include <QSqlDatabase>
#include <QSqlQuery>
#include <QString>
#include <QVariant>
#include <functional>
#include <vector>

#include "vision/core/result.h"

namespace nearpoint {

// How to reach a server. files: empty for none.
struct ServerAccess {
  QString address;           // postgresql://USER@HOST:PORT/NAME, HOST may be a folder with the
                             // server's socket written as ?host=/FOLDER
  QString certificate_file;  // PEM: who must vouch for the server
  QString password_file;     // as libpq reads it; empty: libpq's own places
};
// kBadValue: no such address, or one with a password in it.
[[nodiscard]] Result<void> CheckAddress(const QString& address);

// Used by the thread that opened it alone.
class EventDatabase {
 public:
  // The file with its folder, readable by its owner alone, made if absent. Write-ahead log, full
  // sync at each commit, deleted rows overwritten. Errors: kNotWritable, kUnreadable, kMismatch
  // (made by a newer version).
  [[nodiscard]] static Result<EventDatabase> OpenFile(const QString& file);
  // To another machine the connection is encrypted, and the server must show a certificate for the
  // very host of the address that certificate_file vouches for; otherwise it is refused, before the
  // password is given to it. Gives up after three seconds. Errors: kBadValue (the address),
  // kInsufficient (another machine without a certificate), kUnavailable, kMismatch, kNotFound (Qt's
  // part for PostgreSQL).
  [[nodiscard]] static Result<EventDatabase> OpenServer(const ServerAccess& access);
  EventDatabase(EventDatabase&& other) noexcept;
  EventDatabase& operator=(EventDatabase&& other) = delete;
  ~EventDatabase();

  // Runs one statement with its values in the order of the question marks.
  [[nodiscard]] Result<QSqlQuery> Run(const QString& statement,
                                      const QVariantList& values = {}) const;
  // The same statement for each row of values, prepared once.
  [[nodiscard]] Result<void> RunEach(const QString& statement,
                                     const std::vector<QVariantList>& rows) const;
  // All of `work` or nothing. On the file the write lock is taken at the start.
  [[nodiscard]] Result<void> InTransaction(const std::function<Result<void>()>& work) const;

  [[nodiscard]] bool server() const { return server_; }
  // The file, or the address without its user: for messages.
  [[nodiscard]] const QString& place() const { return place_; }

 private:
  EventDatabase(QString connection, QString place, bool server);
  [[nodiscard]] Result<void> Prepare() const;
  [[nodiscard]] Result<void> Migrate() const;
  [[nodiscard]] Result<int> Version() const;
  [[nodiscard]] Error Explain(const QSqlError& error) const;

  QString connection_;  // empty: moved from
  QString place_;
  bool server_ = false;
};

}  // namespace nearpoint
