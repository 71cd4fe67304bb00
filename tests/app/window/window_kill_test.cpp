// The program with its window is killed at random moments while somebody measures and exercises:
// what it had stored is there as it was, the file opens, and the window that is opened next offers
// to go on with what was interrupted. NEARPOINT_KILLS=50 kills more often, over a longer time, and
// exercises too.
#include <gmock/gmock.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <QPushButton>
#include <algorithm>
#include <array>
#include <cstdlib>
#include <random>
#include <sstream>
#include <string>

#include "app/window/pages/measure_page.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/stored_digest.h"
#include "tests/app/window/stored_session.h"

namespace nearpoint {
namespace {

// When the process is killed: after it said so many steps (pictures that were worked on), and so
// long after that. Steps and not time, since a busy machine would otherwise never come to a trial.
struct Moment {
  int steps = 0;
  int more_us = 0;
};

// Starts the target, kills it at that moment, and gives all that it said.
std::string RunAndKill(const std::string& file, bool exercises, const Moment& moment) {
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0) return {};
  const pid_t child = fork();
  if (child == 0) {
    dup2(ends[1], STDOUT_FILENO);
    close(ends[0]);
    close(ends[1]);
    execl(NEARPOINT_WINDOW_KILL_TARGET, NEARPOINT_WINDOW_KILL_TARGET, file.c_str(),
          exercises ? "exercises" : nullptr, nullptr);
    _exit(127);
  }
  close(ends[1]);
  std::string said;
  std::array<char, 4096> buffer{};
  const auto read_on = [&] {
    const ssize_t count = read(ends[0], buffer.data(), buffer.size());
    if (count > 0) said.append(buffer.data(), static_cast<std::size_t>(count));
    return count > 0;
  };
  const auto steps = [&] { return std::ranges::count(said, '.'); };
  while (steps() < moment.steps && read_on()) {
  }
  usleep(static_cast<useconds_t>(moment.more_us));
  kill(child, SIGKILL);
  int status = 0;
  waitpid(child, &status, 0);
  EXPECT_TRUE(WIFSIGNALED(status)) << "it ended by itself, " << status;
  while (read_on()) {
  }
  close(ends[0]);
  // A last line without its end was not said.
  said.resize(said.rfind('\n') == std::string::npos ? 0 : said.rfind('\n') + 1);
  return said;
}

// What the window shows to somebody who starts it again. True: it offered to go on.
bool ExpectOffersToGoOn(const QString& file) {
  Home home(file);
  MainWindow& window = home.Open(/*practice=*/true);
  const auto people = home.store().People();
  EXPECT_TRUE(people);
  if (!people || people->empty()) {
    EXPECT_EQ(window.shown(), PageId::kWelcome);
    return false;
  }
  EXPECT_EQ(window.shown(), PageId::kHome);
  // By the tables themselves: a session with trials that was never ended.
  auto open = home.store().database().Run(
      "SELECT session.id, count(*) FROM session JOIN trial ON trial.session = session.id "
      "WHERE ended_at IS NULL GROUP BY session.id ORDER BY session.id DESC LIMIT 1");
  const bool expected = open && open->next();
  auto* go_on = window.page()->findChild<QPushButton*>("go_on");
  EXPECT_EQ(go_on != nullptr, expected);
  if (go_on == nullptr || !expected) return false;
  go_on->click();
  for (int i = 0; i < 100 && window.shown() != PageId::kMeasure; ++i) {
    QCoreApplication::processEvents();
  }
  EXPECT_EQ(window.shown(), PageId::kMeasure);
  EXPECT_EQ(home.context().session, open->value(0).toLongLong());
  const auto& page = static_cast<const MeasurePage&>(*window.page());
  EXPECT_EQ(page.flow().trials().size(), open->value(1).toULongLong());
  return true;
}

TEST(WindowKillTest, LosesNothingAndOffersToGoOn) {
  const char* const wanted = std::getenv("NEARPOINT_KILLS");
  const int kills = wanted != nullptr ? std::atoi(wanted) : 3;
  const bool long_run = wanted != nullptr;
  // From before the window is there to some trials later.
  const unsigned most_steps = long_run ? 260 : 12;
  TempFolder folder;
  const QString file = QString::fromStdString(folder / "nearpoint.db");
  std::minstd_rand random(7);
  std::map<std::string, std::string> promised;
  if (!long_run) {
    // A measurement is under way already; the long run begins with an empty file.
    auto store = Store::Open(file, TestNow);
    ASSERT_TRUE(store);
    const auto person = store->AddPerson({0, "Mira", std::nullopt});
    ASSERT_TRUE(person);
    ASSERT_NE(AddSession(*store, person->id, {ComputedTrial(1, 92, 121)}, true), 0);
    promised = DigestOf(*store);
  }
  int offered = 0;
  for (int number = 1; number <= kills; ++number) {
    // Each fourth within the first second: while the file and the window are made.
    const bool early = number % 4 == 0;
    const Moment moment{early ? 0 : static_cast<int>(random() / 7 % most_steps),
                        static_cast<int>(random() / 7 % (early ? 1000000 : 60000))};
    const bool exercises = long_run && number % 3 == 0;
    std::istringstream lines(RunAndKill(file.toStdString(), exercises, moment));
    for (std::string line; std::getline(lines, line);) {
      if (line == ".") continue;
      const std::size_t space = line.rfind(' ');
      promised[line.substr(0, space)] = line.substr(space + 1);
    }
    const auto store = Store::Open(file, TestNow);
    ASSERT_TRUE(store) << store.error().message;
    auto check = store->database().Run("PRAGMA integrity_check");
    ASSERT_TRUE(check && check->next());
    ASSERT_EQ(check->value(0).toString(), "ok");
    const auto there = DigestOf(*store);
    for (const auto& [what, digest] : promised) {
      const auto found = there.find(what);
      ASSERT_NE(found, there.end()) << what << " is gone after kill " << number;
      ASSERT_EQ(found->second, digest) << what << " changed";
    }
    offered += ExpectOffersToGoOn(file) ? 1 : 0;
  }
  std::map<std::string, int> kinds;
  for (const auto& [what, digest] : promised) ++kinds[what.substr(0, what.find(' '))];
  std::printf("%d kills; kept:", kills);
  for (const auto& [kind, count] : kinds) std::printf(" %s %d", kind.c_str(), count);
  std::printf("; offered to go on %d times\n", offered);
  EXPECT_GT(kinds["trial"], 0);
  EXPECT_GT(offered, 0);
}

}  // namespace
}  // namespace nearpoint
