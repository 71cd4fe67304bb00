#include "app/records/file_set.h"

#include <unistd.h>

#include <filesystem>
#include <system_error>

#include "app/records/atomic_file.h"

namespace nearpoint {
namespace {

namespace fs = std::filesystem;

// A folder beside the files that is gone at the end, whatever is still in it.
class Waiting {
 public:
  explicit Waiting(const fs::path& folder)
      : path_(folder / ("." + std::to_string(getpid()) + ".part")) {
    fs::create_directory(path_, code_);
  }
  ~Waiting() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  Waiting(const Waiting&) = delete;
  Waiting& operator=(const Waiting&) = delete;
  [[nodiscard]] const fs::path& path() const { return path_; }
  [[nodiscard]] const std::error_code& code() const { return code_; }

 private:
  fs::path path_;
  std::error_code code_;
};

tl::unexpected<Error> Refused(const fs::path& file, const std::string& reason) {
  return Fail(ErrorCode::kNotWritable,
              file.string() + ": cannot be written: " + reason + "; nothing was changed.");
}

}  // namespace

Result<void> WriteFilesTogether(const std::string& folder, std::span<const NamedText> files) {
  const fs::path target(folder);
  const Waiting waiting(target);
  if (waiting.code()) return Refused(target, waiting.code().message());
  for (const NamedText& file : files) {
    if (fs::is_directory(target / file.name)) return Refused(target / file.name, "it is a folder");
    const std::string place = (waiting.path() / file.name).string();
    auto written = WriteFileAtomically(place, file.text);
    if (written) continue;
    // The person asked for the file under its own name.
    std::string& message = written.error().message;
    if (message.starts_with(place)) message.replace(0, place.size(), (target / file.name).string());
    return written;
  }
  for (const NamedText& file : files) {
    std::error_code code;
    fs::rename(waiting.path() / file.name, target / file.name, code);
    if (code) return Refused(target / file.name, code.message());
  }
  return {};
}

}  // namespace nearpoint
