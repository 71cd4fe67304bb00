// The file under every store of this program: opened for its owner alone, safe against a second
// instance and a power cut.
#pragma once

#include <QSqlError>
#include <QString>

#include "vision/core/result.h"

namespace nearpoint {

// Makes the folder (readable by its owner alone) and the file if absent. Write-ahead log, full sync
// at each commit, foreign keys; a second instance waits up to five seconds for its turn. The result
// is the name of the Qt connection, open and used by this thread alone; CloseConnection ends it.
// Errors: kNotFound (Qt's part for SQLite), kNotWritable, and those of ExplainSqlite.
[[nodiscard]] Result<QString> OpenSqliteFile(const QString& file);

// Closes and forgets a connection of Qt's; nothing for an empty name.
void CloseConnection(const QString& connection);

// What an error of SQLite means to a person: kUnavailable (another instance writes), kNotWritable,
// kUnreadable (damaged, or no file of this program), kBadValue.
[[nodiscard]] Error ExplainSqlite(const QSqlError& error, const QString& file);
// A value that must be unique, or refers to nothing.
[[nodiscard]] bool IsConstraint(const QSqlError& error);

}  // namespace nearpoint
