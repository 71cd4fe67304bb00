#include "app/cli/console.h"

#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <system_error>
#include <utility>

namespace nearpoint {
namespace {

volatile std::sig_atomic_t stop_requested = 0;

}  // namespace

void Say(std::string_view sentence) {
  std::fprintf(stderr, "nearpoint: %.*s\n", static_cast<int>(sentence.size()), sentence.data());
}

Result<DataSink> DataSink::Open(const std::optional<std::string>& file) {
  if (!file) return DataSink(std::nullopt);
  auto opened = AtomicFile::Create(*file);
  if (!opened) return tl::unexpected(opened.error());
  return DataSink(*std::move(opened));
}

Result<void> DataSink::Write(std::string_view text) {
  if (file_) return file_->Write(text);
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (written && std::fflush(stdout) == 0) return {};
  return Fail(ErrorCode::kNotWritable, "Standard output cannot be written to: " +
                                           std::generic_category().message(errno) + ".");
}

Result<void> DataSink::Finish() {
  if (file_) return file_->Commit();
  return Write("");
}

ProgressLine::ProgressLine(std::string label, std::optional<std::int64_t> total)
    : label_(std::move(label)), total_(total), watched_(isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  if (shown_) std::fputs("\r\x1b[K", stderr);
}

void ProgressLine::Show(std::int64_t done) {
  constexpr std::int64_t kEvery = 10;
  if (!watched_ || (shown_ && done < last_ + kEvery)) return;
  last_ = done;
  shown_ = true;
  if (total_) {
    std::fprintf(stderr, "\r%s: %lld of %lld frames", label_.c_str(), static_cast<long long>(done),
                 static_cast<long long>(*total_));
  } else {
    std::fprintf(stderr, "\r%s: %lld frames", label_.c_str(), static_cast<long long>(done));
  }
  std::fflush(stderr);
}

void HandleSignals() {
  struct sigaction stop {};
  stop.sa_handler = [](int) { stop_requested = 1; };
  sigemptyset(&stop.sa_mask);
  stop.sa_flags = SA_RESTART | static_cast<int>(SA_RESETHAND);  // a second Ctrl-C ends at once
  sigaction(SIGINT, &stop, nullptr);
  sigaction(SIGTERM, &stop, nullptr);
  struct sigaction ignore {};
  ignore.sa_handler = SIG_IGN;
  sigaction(SIGPIPE, &ignore, nullptr);
  sigaction(SIGXFSZ, &ignore, nullptr);
}

bool StopRequested() { return stop_requested != 0; }

}  // namespace nearpoint
