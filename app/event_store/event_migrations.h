// The tables of an event, version by version, in the words that SQLite and PostgreSQL share. A new
// version is a new entry at the end; entries that were released are never edited.
#pragma once

#include <string_view>
#include <vector>

namespace nearpoint {

struct EventMigration {
  std::string_view purpose;
  std::vector<std::string_view> statements;  // in order, without the semicolon
};

[[nodiscard]] const std::vector<EventMigration>& AllEventMigrations();

}  // namespace nearpoint
