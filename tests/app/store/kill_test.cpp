// A process that writes is killed at random moments: what it said was stored is there, and the file
// always opens. NEARPOINT_KILLS=50 kills more often than every CI run does.
#include <gmock/gmock.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <QCoreApplication>
#include <array>
#include <cstdlib>
#include <map>
#include <random>
#include <sstream>
#include <string>

#include "app/store/store.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

// Starts the target, reads what it says until it has said `lines`, lets it go on for so many
// microseconds, kills it, and gives all that it said.
std::string RunAndKill(const std::string& file, int lines, unsigned more_us) {
  std::array<int, 2> pipe_ends{};
  if (pipe(pipe_ends.data()) != 0) return {};
  const pid_t child = fork();
  if (child == 0) {
    dup2(pipe_ends[1], STDOUT_FILENO);
    close(pipe_ends[0]);
    close(pipe_ends[1]);
    execl(NEARPOINT_KILL_TARGET, NEARPOINT_KILL_TARGET, file.c_str(), nullptr);
    _exit(127);
  }
  close(pipe_ends[1]);
  std::string said;
  std::array<char, 256> buffer{};
  int seen = 0;
  while (seen < lines) {
    const ssize_t count = read(pipe_ends[0], buffer.data(), buffer.size());
    if (count <= 0) break;
    said.append(buffer.data(), static_cast<std::size_t>(count));
    seen = static_cast<int>(std::ranges::count(said, '\n'));
  }
  usleep(more_us);  // anywhere within the next write
  kill(child, SIGKILL);
  waitpid(child, nullptr, 0);
  while (true) {
    const ssize_t count = read(pipe_ends[0], buffer.data(), buffer.size());
    if (count <= 0) break;
    said.append(buffer.data(), static_cast<std::size_t>(count));
  }
  close(pipe_ends[0]);
  return said;
}

TEST(KillTest, LosesNothingThatWasStored) {
  const char* const wanted = std::getenv("NEARPOINT_KILLS");
  const int kills = wanted != nullptr ? std::atoi(wanted) : 10;
  TempFolder folder;
  const std::string file = folder / "a.db";
  std::minstd_rand random(20);
  std::map<RowId, int> promised;
  for (int kill_number = 0; kill_number < kills; ++kill_number) {
    const int lines = static_cast<int>(random() / 7 % 4);
    const std::string said = RunAndKill(file, lines, random() / 7 % 20000);
    std::istringstream words(said);
    RowId session = 0;
    int number = 0;
    while (words >> session >> number) promised[session] = number;
    const auto store = Store::Open(QString::fromStdString(file));
    ASSERT_TRUE(store) << store.error().message;
    auto check = store->database().Run("PRAGMA integrity_check");
    ASSERT_TRUE(check && check->next());
    ASSERT_EQ(check->value(0).toString(), "ok");
    for (const auto& [id, last] : promised) {
      const auto trials = store->Trials(id);
      ASSERT_TRUE(trials) << trials.error().message;
      // One more may have been stored before it could be said.
      ASSERT_GE(static_cast<int>(trials->size()), last) << "after kill " << kill_number;
      ASSERT_LE(static_cast<int>(trials->size()), last + 1);
      for (std::size_t i = 0; i < trials->size(); ++i) {
        ASSERT_EQ((*trials)[i].trial.number, static_cast<int>(i) + 1);
        ASSERT_FALSE((*trials)[i].track_jsonl.empty());
      }
    }
  }
  EXPECT_FALSE(promised.empty());
  std::printf("%d kills, %zu sessions, every stored trial is there\n", kills, promised.size());
}

}  // namespace
}  // namespace nearpoint
