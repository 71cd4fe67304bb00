#include "models/verified_cache.h"

#include <cstdlib>
#include <fstream>
#include <optional>
#include <system_error>

#include "models/sha256.h"

namespace nearpoint {
namespace {

namespace fs = std::filesystem;

// One line of the cache file. The time is only ever compared with another one of the same file.
std::optional<std::string> CacheLine(const fs::path& file, const std::string& sha256) {
  std::error_code code;
  const fs::path path = fs::canonical(file, code);
  if (code) return std::nullopt;
  const auto size = fs::file_size(path, code);
  if (code) return std::nullopt;
  const auto changed = fs::last_write_time(path, code);
  if (code) return std::nullopt;
  return sha256 + ' ' + std::to_string(size) + ' ' +
         std::to_string(changed.time_since_epoch().count()) + ' ' + path.string();
}

bool Remembered(const fs::path& cache, const std::string& line) {
  std::ifstream in(cache);
  std::string known;
  while (std::getline(in, known)) {
    if (known == line) return true;
  }
  return false;
}

}  // namespace

fs::path CacheFolder() {
  const char* cache = std::getenv("XDG_CACHE_HOME");
  if (cache != nullptr && *cache == '/') return fs::path(cache) / "nearpoint";
  const char* home = std::getenv("HOME");
  if (home != nullptr && *home == '/') return fs::path(home) / ".cache" / "nearpoint";
  return {};
}

Result<void> VerifyFile(const std::string& file, const std::string& expected_sha256,
                        const std::string& what, const fs::path& cache_folder) {
  const auto line = CacheLine(file, expected_sha256);
  const fs::path cache = cache_folder / "verified-files";
  if (line && !cache_folder.empty() && Remembered(cache, *line)) return {};
  const auto found = Sha256OfFile(file);
  if (!found) return tl::unexpected(found.error());
  if (*found != expected_sha256) {
    return Fail(ErrorCode::kMismatch, file + ": this is not " + what + ": its SHA-256 is " +
                                          *found + ", expected " + expected_sha256 + ".");
  }
  if (line && !cache_folder.empty()) {
    std::error_code ignored;
    fs::create_directories(cache_folder, ignored);
    std::ofstream(cache, std::ios::app) << *line << '\n';
  }
  return {};
}

}  // namespace nearpoint
