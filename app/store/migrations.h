// The shape of the file, version by version. A new version is a new entry at the end; entries that
// were released are never edited.
#pragma once

#include <string_view>
#include <vector>

namespace nearpoint {

// One step from version i to i + 1: the statements that make it, in order, without the semicolon.
struct Migration {
  std::string_view purpose;
  std::vector<std::string_view> statements;
};

[[nodiscard]] const std::vector<Migration>& AllMigrations();

}  // namespace nearpoint
