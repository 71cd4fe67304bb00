#include "app/records/atomic_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>
#include <utility>

namespace nearpoint {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kBlock = 1 << 16;

std::string Reason(int error_number) {
  switch (error_number) {
    case ENOSPC:
    case EDQUOT:
      return "the disk is full";
    case EFBIG:
      return "the file would be larger than this user may make it";
    case EACCES:
    case EPERM:
      return "this user may not write there";
    case EROFS:
      return "the disk is read-only";
    case ENOENT:
      return "its folder does not exist";
    case ENOTDIR:
      return "a part of its path is not a folder";
    case EISDIR:
      return "it is a folder";
    default:
      return std::generic_category().message(error_number);
  }
}

tl::unexpected<Error> Refused(const std::string& path, const std::string& reason) {
  return Fail(ErrorCode::kNotWritable,
              path + ": cannot be written: " + reason + "; nothing was changed.");
}

int OpenRetrying(const std::string& path, int flags, mode_t mode = 0666) {
  int fd = -1;
  do {
    fd = open(path.c_str(), flags | O_CLOEXEC, mode);
  } while (fd < 0 && errno == EINTR);
  return fd;
}

// A rename is on the disk only once its folder is.
void SyncFolder(const fs::path& folder) {
  const int fd = OpenRetrying(folder.empty() ? "." : folder.string(), O_RDONLY | O_DIRECTORY);
  if (fd < 0) return;
  fsync(fd);
  close(fd);
}

}  // namespace

AtomicFile::AtomicFile(std::string path, std::string temporary, int fd)
    : path_(std::move(path)), temporary_(std::move(temporary)), fd_(fd) {}

AtomicFile::AtomicFile(AtomicFile&& other) noexcept
    : path_(std::move(other.path_)),
      temporary_(std::move(other.temporary_)),
      fd_(std::exchange(other.fd_, -1)),
      buffer_(std::move(other.buffer_)),
      failure_(std::move(other.failure_)) {
  other.temporary_.clear();
}

AtomicFile::~AtomicFile() {
  if (fd_ >= 0) close(fd_);
  if (!temporary_.empty()) unlink(temporary_.c_str());
}

Result<AtomicFile> AtomicFile::Create(const std::string& path, Readers readers) {
  std::error_code code;
  const fs::path real = fs::exists(path, code) ? fs::canonical(path, code) : fs::path(path);
  const fs::file_status status = fs::status(real, code);
  if (fs::is_directory(status)) return Refused(path, Reason(EISDIR));
  if (fs::exists(status) && !fs::is_regular_file(status)) {
    const int fd = OpenRetrying(path, O_WRONLY);
    if (fd < 0) return Refused(path, Reason(errno));
    return AtomicFile(path, "", fd);
  }
  if (fs::exists(status) && access(real.c_str(), W_OK) != 0) return Refused(path, Reason(errno));
  static std::atomic<int> counter{0};
  fs::path temporary_path = real.parent_path() / ".";
  temporary_path += real.filename();
  temporary_path += "." + std::to_string(getpid()) + "-" + std::to_string(++counter) + ".part";
  const std::string temporary = temporary_path.string();
  const int fd = OpenRetrying(temporary, O_WRONLY | O_CREAT | O_EXCL,
                              readers == Readers::kOwner ? 0600 : 0666);
  if (fd < 0) return Refused(path, Reason(errno));
  AtomicFile file(real.string(), temporary, fd);
  return file;
}

tl::unexpected<Error> AtomicFile::Abandon(int error_number) {
  failure_ = Reason(error_number);
  if (fd_ >= 0) close(std::exchange(fd_, -1));
  if (!temporary_.empty()) {
    unlink(temporary_.c_str());
    temporary_.clear();
  }
  return Refused(path_, failure_);
}

Result<void> AtomicFile::Flush() {
  std::string_view rest = buffer_;
  while (!rest.empty()) {
    const ssize_t written = write(fd_, rest.data(), rest.size());
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return Abandon(written < 0 ? errno : ENOSPC);
    rest.remove_prefix(static_cast<std::size_t>(written));
  }
  buffer_.clear();
  return {};
}

Result<void> AtomicFile::Write(std::string_view text) {
  if (!failure_.empty()) return Refused(path_, failure_);
  buffer_ += text;
  if (buffer_.size() < kBlock) return {};
  return Flush();
}

Result<void> AtomicFile::Commit() {
  if (!failure_.empty()) return Refused(path_, failure_);
  if (auto flushed = Flush(); !flushed) return flushed;
  if (!temporary_.empty() && fsync(fd_) != 0) return Abandon(errno);
  if (close(std::exchange(fd_, -1)) != 0) return Abandon(errno);
  if (temporary_.empty()) return {};
  if (std::rename(temporary_.c_str(), path_.c_str()) != 0) return Abandon(errno);
  temporary_.clear();
  SyncFolder(fs::path(path_).parent_path());
  return {};
}

Result<void> WriteFileAtomically(const std::string& path, std::string_view text, Readers readers) {
  auto file = AtomicFile::Create(path, readers);
  if (!file) return tl::unexpected(file.error());
  if (auto written = file->Write(text); !written) return written;
  return file->Commit();
}

}  // namespace nearpoint
