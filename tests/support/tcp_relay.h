// A cable between a program and a server that a test can pull and plug in again.
#pragma once

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cstdint>
#include <mutex>
#include <thread>
#include <utility>
#include <vector>

namespace nearpoint {

// A port of this machine that nobody listened on a moment ago.
[[nodiscard]] inline int FreePort() {
  const int fd = socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  (void)bind(fd, reinterpret_cast<sockaddr*>(&address), sizeof address);
  socklen_t size = sizeof address;
  getsockname(fd, reinterpret_cast<sockaddr*>(&address), &size);
  close(fd);
  return ntohs(address.sin_port);
}

class TcpRelay {
 public:
  explicit TcpRelay(int to_port) : to_port_(to_port) {
    // Closed in programs that the test starts: they would keep a cut cable whole.
    listener_ = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    sockaddr_in address = Loopback(0);
    (void)bind(listener_, reinterpret_cast<sockaddr*>(&address), sizeof address);
    listen(listener_, 16);
    socklen_t size = sizeof address;
    getsockname(listener_, reinterpret_cast<sockaddr*>(&address), &size);
    port_ = ntohs(address.sin_port);
    thread_ = std::jthread([this](const std::stop_token& stop) { Run(stop); });
  }
  ~TcpRelay() {
    thread_.request_stop();
    thread_.join();
    close(listener_);
  }
  TcpRelay(const TcpRelay&) = delete;
  TcpRelay& operator=(const TcpRelay&) = delete;

  [[nodiscard]] int port() const { return port_; }
  // Open connections break in the middle of whatever they carry; new ones are dropped.
  void Cut() { cut_ = true; }
  void Restore() { cut_ = false; }

 private:
  static sockaddr_in Loopback(int port) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    return address;
  }
  void Drop() {
    for (const auto& [a, b] : pairs_) close(a), close(b);
    pairs_.clear();
  }
  void Accept() {
    const int client = accept4(listener_, nullptr, nullptr, SOCK_CLOEXEC);
    if (client < 0) return;
    const int server = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    const sockaddr_in address = Loopback(to_port_);
    if (cut_ || connect(server, reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) {
      close(client), close(server);
      return;
    }
    pairs_.emplace_back(client, server);
  }
  // False when either end is gone.
  static bool Carry(int from, int to) {
    std::array<char, 16384> bytes;
    const ssize_t count = recv(from, bytes.data(), bytes.size(), 0);
    if (count <= 0) return false;
    for (ssize_t sent = 0; sent < count;) {
      const ssize_t now =
          send(to, bytes.data() + sent, static_cast<std::size_t>(count - sent), MSG_NOSIGNAL);
      if (now <= 0) return false;
      sent += now;
    }
    return true;
  }
  void Run(const std::stop_token& stop) {
    while (!stop.stop_requested()) {
      if (cut_) Drop();
      std::vector<pollfd> wait{{listener_, POLLIN, 0}};
      for (const auto& [a, b] : pairs_) {
        wait.push_back({a, POLLIN, 0});
        wait.push_back({b, POLLIN, 0});
      }
      constexpr int kMilliseconds = 20;
      if (poll(wait.data(), wait.size(), kMilliseconds) <= 0) continue;
      std::vector<std::pair<int, int>> kept;
      for (std::size_t i = 0; i < pairs_.size(); ++i) {
        const auto [a, b] = pairs_[i];
        bool open = !cut_;
        if (open && wait[1 + 2 * i].revents != 0) open = Carry(a, b);
        if (open && wait[2 + 2 * i].revents != 0) open = Carry(b, a);
        if (open) {
          kept.push_back(pairs_[i]);
        } else {
          close(a), close(b);
        }
      }
      pairs_ = std::move(kept);
      if (wait[0].revents != 0) Accept();
    }
    Drop();
  }

  int to_port_;
  int port_ = 0;
  int listener_ = -1;
  std::atomic<bool> cut_ = false;
  std::vector<std::pair<int, int>> pairs_;  // of the thread alone
  std::jthread thread_;
};

}  // namespace nearpoint
