#include "app/cli/reaction_terminal.h"

#include <poll.h>
#include <termios.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <optional>

#include "app/cli/console.h"

namespace nearpoint {
namespace {

Time Now() {
  return std::chrono::duration_cast<Time>(std::chrono::steady_clock::now().time_since_epoch());
}

// Single keys without echo, until the end of its life.
class RawKeys {
 public:
  RawKeys() {
    tcgetattr(STDIN_FILENO, &before_);
    termios raw = before_;
    raw.c_lflag &= static_cast<tcflag_t>(~(ICANON | ECHO));
    raw.c_cc[VMIN] = 0;
    raw.c_cc[VTIME] = 0;
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &raw);
  }
  ~RawKeys() { tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_); }
  RawKeys(const RawKeys&) = delete;
  RawKeys& operator=(const RawKeys&) = delete;

  // Waits at most `longest` for a key; the time it came.
  static std::optional<Time> Wait(Time longest) {
    const Time end = Now() + longest;
    for (;;) {
      const Time left = end - Now();
      if (left <= Time::zero() || StopRequested()) return std::nullopt;
      pollfd keys{STDIN_FILENO, POLLIN, 0};
      // In slices, so that Ctrl-C is noticed.
      const int ms = static_cast<int>(std::clamp(ToMilliseconds(left), 1.0, 200.0));
      if (poll(&keys, 1, ms) <= 0) continue;
      const Time at = Now();
      char key[16];
      if (read(STDIN_FILENO, key, sizeof key) > 0) return at;
      return std::nullopt;  // the terminal is gone
    }
  }

 private:
  termios before_{};
};

void ShowMark() { std::fputs("\r\x1b[7m                    \x1b[0m", stderr); }
void HideMark() { std::fputs("\r\x1b[K", stderr); }

}  // namespace

Result<std::vector<LagPress>> RunReactionTerminal(ReactionTask task) {
  if (isatty(STDIN_FILENO) != 1 || isatty(STDERR_FILENO) != 1) {
    return Fail(ErrorCode::kUnavailable,
                "The reaction task needs a terminal with a keyboard; or give --times FILE.csv.");
  }
  Say("Press any key as soon as a bright bar appears, " + std::to_string(kLagPresses) +
      " times. Press a key to begin.");
  const RawKeys keys;
  constexpr Time kPatience = std::chrono::seconds(60);
  if (!RawKeys::Wait(kPatience)) {
    return Fail(ErrorCode::kInsufficient, "The reaction task was not begun.");
  }
  while (!task.done()) {
    HideMark();
    const std::optional<Time> early = RawKeys::Wait(task.wait());
    if (StopRequested()) {
      return Fail(ErrorCode::kInsufficient, "The reaction task was broken off.");
    }
    if (early) {
      task.OnPress(*early);
      Say("Too early. Wait for the bar.");
      continue;
    }
    ShowMark();
    task.Shown(Now());
    if (const auto pressed = RawKeys::Wait(ReactionTask::kPatience)) {
      task.OnPress(*pressed);
    } else {
      task.Missed();
    }
  }
  HideMark();
  return task.presses();
}

}  // namespace nearpoint
