// Runs a program to its end and keeps what it said.
#pragma once

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tests/support/temp_folder.h"

namespace nearpoint {

struct ProgramRun {
  int status = -1;  // exit status; -1 when a signal ended it
  std::string out;
  std::string err;
};

struct RunOptions {
  std::optional<std::string> standard_output;  // a file to write it to instead of keeping it
  std::optional<rlim_t> largest_file;          // bytes; stands in for a full disk
  std::vector<std::pair<std::string, std::string>> environment;
};

[[nodiscard]] inline ProgramRun RunProgram(const std::string& program,
                                           const std::vector<std::string>& arguments,
                                           const RunOptions& options = {}) {
  const TempFolder folder;
  const std::string out = options.standard_output.value_or(folder / "out");
  std::vector<char*> argv{const_cast<char*>(program.c_str())};
  for (const std::string& argument : arguments) argv.push_back(const_cast<char*>(argument.c_str()));
  argv.push_back(nullptr);
  const std::string err = folder / "err";
  const pid_t child = fork();
  if (child == 0) {
    const int out_fd = open(out.c_str(), O_WRONLY | O_CREAT, 0600);
    const int err_fd = open(err.c_str(), O_WRONLY | O_CREAT, 0600);
    dup2(out_fd, STDOUT_FILENO);
    dup2(err_fd, STDERR_FILENO);
    for (const auto& [name, value] : options.environment) setenv(name.c_str(), value.c_str(), 1);
    if (options.largest_file) {
      const rlimit limit{*options.largest_file, *options.largest_file};
      setrlimit(RLIMIT_FSIZE, &limit);
    }
    execv(program.c_str(), argv.data());
    _exit(127);
  }
  int status = 0;
  waitpid(child, &status, 0);
  ProgramRun run;
  run.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  if (!options.standard_output) run.out = folder.Read("out");
  run.err = folder.Read("err");
  return run;
}

}  // namespace nearpoint
