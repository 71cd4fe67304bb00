// The store of an event for a test: a real PostgreSQL in a folder of its own, made by the script
// that an organiser uses.
#pragma once

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <string>

#include "tests/support/run_program.h"
#include "tests/support/tcp_relay.h"

namespace nearpoint {

class EventServer {
 public:
  // options: more of the script's.
  explicit EventServer(const std::vector<std::string>& options = {}) : port_(FreePort()) {
    // Directly below /tmp: as root the server runs under another user, who must reach it.
    char place[] = "/tmp/nearpoint-event-XXXXXX";
    folder_ = mkdtemp(place);
    std::vector<std::string> arguments{NEARPOINT_EVENT_SERVER, "start", folder_, "--port",
                                       std::to_string(port_)};
    arguments.insert(arguments.end(), options.begin(), options.end());
    const ProgramRun run = RunProgram("/bin/sh", arguments);
    started_ = run.status == 0;
    EXPECT_TRUE(started_) << run.err;
  }
  ~EventServer() {
    EXPECT_EQ(RunProgram("/bin/sh", {NEARPOINT_EVENT_SERVER, "erase", folder_}).status, 0);
  }
  EventServer(const EventServer&) = delete;
  EventServer& operator=(const EventServer&) = delete;

  [[nodiscard]] bool started() const { return started_; }
  [[nodiscard]] const std::string& folder() const { return folder_; }
  void Stop() const {
    EXPECT_EQ(RunProgram("/bin/sh", {NEARPOINT_EVENT_SERVER, "stop", folder_}).status, 0);
  }
  [[nodiscard]] int port() const { return port_; }
  // The file that stations join with.
  [[nodiscard]] std::string station_file() const { return folder_ + "/station.json"; }
  [[nodiscard]] std::string password() const {
    std::ifstream file(folder_ + "/password");
    std::string text;
    std::getline(file, text);
    return text;
  }
  [[nodiscard]] static std::string AddressAt(int port) {
    return "postgresql://nearpoint@127.0.0.1:" + std::to_string(port) + "/nearpoint";
  }

 private:
  std::string folder_;
  int port_;
  bool started_ = false;
};

}  // namespace nearpoint
