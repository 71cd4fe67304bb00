// Which files were found to have which hash, so that 100 MB are read once per installation and not
// at each start.
#pragma once

#include <filesystem>
#include <string>

#include "vision/core/result.h"

namespace nearpoint {

// The user's cache folder of this program: $XDG_CACHE_HOME/nearpoint, else ~/.cache/nearpoint, else
// empty (no memory).
[[nodiscard]] std::filesystem::path CacheFolder();

// Accepts the file if its SHA-256 is the expected one (64 lower-case digits). An accepted file is
// remembered in cache_folder by path, size and time of change; while these stay, it is accepted
// without being read. A cache that cannot be read or written costs time, nothing else. what: "the
// landmark model", for messages. Errors: kNotFound, kUnreadable, kMismatch with both hashes in the
// sentence.
[[nodiscard]] Result<void> VerifyFile(const std::string& file, const std::string& expected_sha256,
                                      const std::string& what,
                                      const std::filesystem::path& cache_folder);

}  // namespace nearpoint
