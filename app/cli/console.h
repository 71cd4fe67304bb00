// What the program says and where: data on standard output, everything else on standard error.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "app/records/atomic_file.h"
#include "vision/core/result.h"

namespace nearpoint {

// One line on standard error.
void Say(std::string_view sentence);

// Where data goes: a file that is complete or not there, or standard output, line by line as the
// data come.
class DataSink {
 public:
  // file: absent for standard output.
  [[nodiscard]] static Result<DataSink> Open(const std::optional<std::string>& file);
  // kNotWritable where nobody can take the data any more (a full disk, a closed pipe).
  [[nodiscard]] Result<void> Write(std::string_view text);
  [[nodiscard]] Result<void> Finish();

 private:
  explicit DataSink(std::optional<AtomicFile> file) : file_(std::move(file)) {}
  std::optional<AtomicFile> file_;
};

// "track: 120 of 264 frames" on standard error, rewritten in place, and only where a person watches
// a terminal.
class ProgressLine {
 public:
  ProgressLine(std::string label, std::optional<std::int64_t> total);
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  void Show(std::int64_t done);

 private:
  std::string label_;
  std::optional<std::int64_t> total_;
  bool watched_;
  bool shown_ = false;
  std::int64_t last_ = 0;
};

// Ctrl-C and a polite kill end the work in order: what was measured until then is kept. Also makes
// a full disk and a closed pipe come back as errors of writing instead of ending the program.
void HandleSignals();
[[nodiscard]] bool StopRequested();

}  // namespace nearpoint
