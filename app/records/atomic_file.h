// A file that is there completely or not at all.
#pragma once

#include <string>
#include <string_view>

#include "vision/core/result.h"

namespace nearpoint {

enum class Readers { kUsual, kOwner };

// Writes under another name in the same folder; Commit() makes it the file, in one step that also
// survives a power cut. Without Commit() nothing stays behind and a file that was there before is
// as it was. A path that is not a regular file (a pipe, a device) is written to directly. Not
// copyable; moved-from objects do nothing.
class AtomicFile {
 public:
  // Errors: kNotWritable, naming the file and the reason. kOwner: from its first byte on only this
  // user may read it; otherwise as the user's own setting has it.
  [[nodiscard]] static Result<AtomicFile> Create(const std::string& path,
                                                 Readers readers = Readers::kUsual);
  AtomicFile(AtomicFile&& other) noexcept;
  AtomicFile& operator=(AtomicFile&& other) = delete;
  ~AtomicFile();

  // After an error (a full disk, say) the file is abandoned: later calls return the same error.
  [[nodiscard]] Result<void> Write(std::string_view text);
  [[nodiscard]] Result<void> Commit();

 private:
  AtomicFile(std::string path, std::string temporary, int fd);
  Result<void> Flush();
  tl::unexpected<Error> Abandon(int error_number);

  std::string path_;
  std::string temporary_;  // empty: written to directly
  int fd_ = -1;
  std::string buffer_;
  std::string failure_;
};

[[nodiscard]] Result<void> WriteFileAtomically(const std::string& path, std::string_view text,
                                               Readers readers = Readers::kUsual);

}  // namespace nearpoint
