// A whole event without a window: three stations as processes of their own, one PostgreSQL, 300
// children; the cable of one station is pulled and plugged in again, another is killed. Nothing is
// lost, nobody is there twice unseen, the numbers are the truth; then everything is deleted.
#include <csignal>
#include <functional>
#include <set>
#include <thread>

#include "tests/app/event_cli/event_server.h"
#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::HasSubstr;

constexpr int kChildren = 300;
constexpr int kTwice = 300;  // measured at two stations while one of them is cut off

// Every tenth child lies far beyond the limit (60 mm from the spectacle plane), every tenth gives
// no trial that counts, all others lie well within.
enum class Kind { kWithin, kBeyond, kNothing };
Kind KindOf(int child) {
  if (child % 10 == 0) return Kind::kBeyond;
  return child % 10 == 5 ? Kind::kNothing : Kind::kWithin;
}
double TrueBreak(int child) { return KindOf(child) == Kind::kBeyond ? 170 : 48; }

json SessionOf(int child) {
  json trials = json::array();
  for (const double off : {-1.0, 0.0, 1.0}) {
    const bool nothing = KindOf(child) == Kind::kNothing;
    trials.push_back({{"break_mm", nothing ? json() : json(TrueBreak(child) + off)},
                      {"break_sd_mm", nothing ? json() : json(1)},
                      {"recovery_mm", nullptr},
                      {"recovery_sd_mm", nullptr},
                      {"censored", nullptr},
                      {"approach_speed_mm_s", 15},
                      {"set_aside", nothing ? json("no report was made") : json()}});
  }
  return {{"schema", "nearpoint/session/1"}, {"trials", trials}, {"seconds", 95 + child % 11}};
}

std::string ScriptLine(int child) {
  return json{{"do", "measure"}, {"number", std::to_string(child)}, {"session", SessionOf(child)}}
             .dump() +
         "\n";
}

// A program that runs on while the test does other things; its output in a file.
class Running {
 public:
  Running(std::string out, std::vector<std::string> arguments) : out_(std::move(out)) {
    pid_ = fork();
    if (pid_ != 0) return;
    const int fd = open(out_.c_str(), O_WRONLY | O_CREAT | O_APPEND, 0600);
    dup2(fd, STDOUT_FILENO);
    dup2(fd, STDERR_FILENO);
    std::vector<char*> argv{const_cast<char*>(NEARPOINT_PROGRAM)};
    for (std::string& argument : arguments) argv.push_back(argument.data());
    argv.push_back(nullptr);
    execv(NEARPOINT_PROGRAM, argv.data());
    _exit(127);
  }
  // Waits until it has answered so many lines.
  void WaitFor(int lines) const {
    while (Lines() < lines && !Ended()) {
      std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
  }
  void Kill() {
    kill(pid_, SIGKILL);
    waitpid(pid_, nullptr, 0);
  }
  int Wait() {
    int status = 0;
    waitpid(pid_, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  [[nodiscard]] std::string Output() const {
    std::ifstream file(out_);
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
  }

 private:
  [[nodiscard]] bool Ended() const {
    siginfo_t info{};
    waitid(P_PID, static_cast<id_t>(pid_), &info, WEXITED | WNOHANG | WNOWAIT);
    return info.si_pid != 0;
  }
  [[nodiscard]] int Lines() const {
    const std::string text = Output();
    int lines = 0;
    for (std::size_t at = text.find("{\"line\""); at != std::string::npos;
         at = text.find("{\"line\"", at + 1)) {
      ++lines;
    }
    return lines;
  }
  std::string out_;
  pid_t pid_ = 0;
};

class EventScriptTest : public testing::Test {
 protected:
  void SetUp() override {
    ASSERT_TRUE(server_.started());
    folder_.Write("pgpass", "*:*:*:*:" + server_.password() + "\n");
    std::filesystem::permissions(folder_ / "pgpass", std::filesystem::perms::owner_read);
    setenv("PGPASSFILE", (folder_ / "pgpass").c_str(), 1);
    setenv("QT_QPA_PLATFORM", "offscreen", 1);
  }
  ProgramRun Event(const std::string& station, std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "event");
    arguments.insert(arguments.end(), {"--data", folder_ / station});
    return Nearpoint(arguments);
  }
  void MakeStation(const std::string& name, int port) {
    const ProgramRun run =
        Event(name, {"station", "--name", name, "--volunteer", "volunteer of " + name, "--server",
                     EventServer::AddressAt(port)});
    ASSERT_EQ(run.status, 0) << run.err;
  }
  // Measures those children at that station, and says so line by line.
  Running Start(const std::string& name, const std::vector<int>& children) {
    std::string script;
    for (const int child : children) script += ScriptLine(child);
    const std::string file = folder_.Write("script-" + name, script);
    return Running(folder_ / ("out-" + name), {"event", "run", file, "--data", folder_ / name,
                                               "--pause-ms", "10", "--merge-for-s", "120"});
  }
  json Numbers(const std::string& station) {
    const ProgramRun run = Event(station, {"numbers"});
    EXPECT_EQ(run.status, 0) << run.err;
    return run.status == 0 ? json::parse(run.out) : json();
  }
  void PrepareEvent() {
    std::string roster = "Class,Pupil,No,Age,Consent\n";
    for (int child = 1; child <= kChildren; ++child) {
      std::string name = "Kid ";
      for (int rest = child; rest > 0; rest /= 26) name += static_cast<char>('a' + rest % 26);
      roster += std::to_string(1 + child % 4) + "a," + name + " Uniquename," +
                std::to_string(child) + "," + std::to_string(6 + child % 5) + ",yes\n";
    }
    const std::string file = folder_.Write("roster.csv", roster);
    MakeStation("a", server_.port());
    ASSERT_EQ(Event("a", {"new", "--name", "Hall", "--day", "2026-03-14"}).status, 0);
    const ProgramRun import = Event("a", {"import", file});
    ASSERT_EQ(import.status, 0) << import.err;
    EXPECT_EQ(json::parse(import.out)["children"], kChildren);
    ASSERT_EQ(Event("a", {"merge"}).status, 0);
  }
  // What the list says of each child, by its number.
  std::map<int, std::vector<std::string>> ChildrenAt(const std::string& station) {
    std::map<int, std::vector<std::string>> children;
    std::istringstream lines(Event(station, {"numbers", "--children"}).out);
    std::string line;
    std::getline(lines, line);
    while (std::getline(lines, line)) {
      std::vector<std::string> cells;
      std::istringstream row(line);
      for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
      children[std::stoi(cells[0])] = cells;
    }
    return children;
  }
  int OnServer(const std::string& statement) {
    setenv("PGPASSWORD", server_.password().c_str(), 1);
    const ProgramRun run =
        RunProgram("/usr/bin/psql", {"-h", "127.0.0.1", "-p", std::to_string(server_.port()), "-U",
                                     "nearpoint", "-d", "nearpoint", "-tAc", statement});
    unsetenv("PGPASSWORD");
    EXPECT_EQ(run.status, 0) << run.err;
    return std::atoi(run.out.c_str());
  }

  EventServer server_;
  TempFolder folder_;
};

std::vector<int> Range(int first, int last) {
  std::vector<int> children;
  for (int child = first; child <= last; ++child) children.push_back(child);
  return children;
}

TEST_F(EventScriptTest, NothingIsLostNobodyIsTwiceAndTheNumbersAreTheTruth) {
  PrepareEvent();
  TcpRelay cable(server_.port());
  MakeStation("b", cable.port());
  MakeStation("c", server_.port());
  for (const char* station : {"b", "c"}) {
    const ProgramRun merge = Event(station, {"merge"});
    ASSERT_EQ(merge.status, 0) << merge.err;
    EXPECT_EQ(json::parse(merge.out)["received"], 1 + 2 * kChildren);
    EXPECT_EQ(json::parse(merge.out)["locked_events"], 1);
    EXPECT_THAT(Event(station, {"numbers"}).err, HasSubstr("still locked"));
  }
  // The key goes from the station that has it to those that have signed in.
  for (const char* station : {"a", "b", "c"}) {
    const ProgramRun merge = Event(station, {"merge"});
    ASSERT_EQ(merge.status, 0) << merge.err;
    EXPECT_EQ(json::parse(merge.out)["locked_events"], 0);
  }

  // b works, then its cable is pulled; only then do the others begin, and a takes a child that b
  // will take too without a chance to know.
  std::vector<int> for_b = Range(101, 199);
  for_b.insert(for_b.begin() + 30, kTwice);
  Running b = Start("b", for_b);
  b.WaitFor(15);
  cable.Cut();
  std::vector<int> for_a = Range(1, 100);
  for_a.insert(for_a.begin(), kTwice);
  Running a = Start("a", for_a);
  std::optional<Running> c = Start("c", Range(200, 299));
  c->WaitFor(35);
  c->Kill();
  a.WaitFor(10);
  b.WaitFor(50);
  cable.Restore();
  c.emplace(Start("c", Range(200, 299)));  // the same script: what was done is not done again
  EXPECT_EQ(a.Wait(), 0) << a.Output();
  EXPECT_EQ(b.Wait(), 0) << b.Output();
  EXPECT_EQ(c->Wait(), 0) << c->Output();
  EXPECT_THAT(b.Output(), HasSubstr("goes on alone"));
  EXPECT_THAT(b.Output(), testing::Not(HasSubstr("was measured already")));
  EXPECT_THAT(c->Output(), HasSubstr("was measured already"));

  for (const char* station : {"a", "b", "c"}) {
    ASSERT_EQ(Event(station, {"merge"}).status, 0);
  }
  const json numbers = Numbers("a");
  EXPECT_EQ(numbers["listed"], kChildren);
  EXPECT_EQ(numbers["measured"], kChildren);
  EXPECT_EQ(numbers["within"], 240);
  EXPECT_EQ(numbers["see_a_professional"], 30);
  EXPECT_EQ(numbers["without_a_number"], 30);
  EXPECT_EQ(numbers["measure_again"], 0);
  EXPECT_EQ(numbers["measured_twice_unseen"], 1);
  EXPECT_EQ(numbers["set_aside_why"]["no report was made"], 90);
  EXPECT_EQ(numbers["contradictions"].size(), 0u);
  EXPECT_EQ(Numbers("b"), numbers);
  EXPECT_EQ(Numbers("c"), numbers);

  // Child by child.
  const auto children = ChildrenAt("c");
  ASSERT_EQ(children.size(), static_cast<std::size_t>(kChildren));
  for (const auto& [child, cells] : children) {
    EXPECT_EQ(cells[15], child == kTwice ? "yes" : "no") << child;
    EXPECT_EQ(cells[16], child == kTwice ? "2" : "1") << child;
    if (KindOf(child) == Kind::kNothing) {
      EXPECT_EQ(cells[7], "") << child;
    } else {
      // From the spectacle plane, 13.5 mm before the cornea.
      EXPECT_NEAR(std::stod(cells[7]), TrueBreak(child) - 13.5, 1.5) << child;
    }
  }
  // Every measurement is on the server once, each with its session; and nothing else is.
  EXPECT_EQ(OnServer("SELECT count(*) FROM record WHERE kind = 'measured'"), kChildren + 1);
  EXPECT_EQ(OnServer("SELECT count(*) FROM session_text"), kChildren + 1);
  EXPECT_EQ(OnServer("SELECT count(*) FROM record WHERE kind = 'child'"), kChildren);
  EXPECT_EQ(OnServer("SELECT count(*) FROM (SELECT station, max(seq) - count(*) AS gap FROM record "
                     "GROUP BY station) AS s WHERE gap <> 0"),
            0);

  // The end: exported, then deleted everywhere, each station confirming it.
  ASSERT_EQ(Event("a", {"letters", "--out", folder_ / "letters.pdf"}).status, 0);
  ASSERT_EQ(Event("b", {"delete", "--confirm", "hall"}).status, 1);  // the name, as it is
  const ProgramRun deletion = Event("b", {"delete", "--confirm", "Hall"});
  ASSERT_EQ(deletion.status, 0) << deletion.err;
  const json asked = json::parse(deletion.out);
  EXPECT_EQ(asked["everywhere"], false);
  const std::string id = deletion.err.substr(deletion.err.rfind(' ') + 1, 36);
  ASSERT_EQ(Event("a", {"merge"}).status, 0);
  ASSERT_EQ(Event("c", {"merge"}).status, 0);
  const json where = json::parse(Event("a", {"delete", "--where", "--event", id}).out);
  EXPECT_EQ(where["everywhere"], true) << where;
  EXPECT_EQ(where["stations"].size(), 3u);
  EXPECT_EQ(OnServer("SELECT count(*) FROM record"), 0);
  EXPECT_EQ(OnServer("SELECT count(*) FROM session_text"), 0);
  for (const char* station : {"a", "b", "c"}) {
    for (const auto& file : std::filesystem::directory_iterator(folder_ / station)) {
      EXPECT_THAT(folder_.Read(std::string(station) + "/" + file.path().filename().string()),
                  testing::Not(HasSubstr("Uniquename")))
          << file.path();
    }
  }
}

// Byte by byte, over every file of a server and of each station: no name before the deletion on the
// server, none anywhere after it, and none when the server has stopped, which writes its caches
// out.
TEST_F(EventScriptTest, NoFileOfServerOrStationHoldsANameAfterTheDeletion) {
  const std::string roster =
      folder_.Write("roster.csv",
                    "number,name,class,consent\n1,Ann Uniquename,3a,yes\n2,Ben Uniquename,3a,yes\n"
                    "3,Cid Uniquename,3b,no\n");
  for (const char* station : {"a", "b"}) MakeStation(station, server_.port());
  ASSERT_EQ(Event("a", {"new", "--name", "Schoolname", "--day", "2026-03-14"}).status, 0);
  ASSERT_EQ(Event("a", {"import", roster}).status, 0);
  for (const char* station : {"a", "b", "a", "b"}) {
    ASSERT_EQ(Event(station, {"merge"}).status, 0);
  }
  Running b = Start("b", {1, 2});
  ASSERT_EQ(b.Wait(), 0) << b.Output();
  ASSERT_EQ(Event("a", {"merge"}).status, 0);
  EXPECT_EQ(Numbers("a")["measured"], 2);
  const auto holding = [](const std::string& folder) {
    std::vector<std::string> files;
    for (const auto& file : std::filesystem::recursive_directory_iterator(folder)) {
      if (!file.is_regular_file()) continue;
      std::ifstream in(file.path(), std::ios::binary);
      const std::string bytes{std::istreambuf_iterator<char>(in), {}};
      for (const char* name : {"Uniquename", "Schoolname", "volunteer of"}) {
        if (bytes.find(name) != std::string::npos) files.push_back(file.path().string());
      }
    }
    return files;
  };
  EXPECT_THAT(holding(server_.folder()), testing::IsEmpty());
  EXPECT_THAT(holding(folder_ / "b"), testing::Not(testing::IsEmpty()));  // the search finds
  const ProgramRun deletion = Event("a", {"delete", "--confirm", "Schoolname"});
  ASSERT_EQ(deletion.status, 0) << deletion.err;
  EXPECT_EQ(json::parse(deletion.out)["everywhere"], false);
  const std::string id = deletion.err.substr(deletion.err.rfind(' ') + 1, 36);
  ASSERT_EQ(Event("b", {"merge"}).status, 0);
  const json where = json::parse(Event("a", {"delete", "--where", "--event", id}).out);
  EXPECT_EQ(where["everywhere"], true);
  EXPECT_EQ(where["unsealed_on_the_server"], 0);
  EXPECT_THAT(where["what_was_done"].dump(), HasSubstr("never had a name"));
  for (const bool stopped : {false, true}) {
    if (stopped) server_.Stop();
    EXPECT_THAT(holding(server_.folder()), testing::IsEmpty()) << stopped;
    for (const char* station : {"a", "b"}) {
      EXPECT_THAT(holding(folder_ / station), testing::IsEmpty()) << station;
    }
  }
}

// The server of an event in a hall: who joins with its file reaches it, encrypted, and nobody who
// only says so. 127.0.0.2 stands for another machine: not one of the names of this one.
TEST(EventServerTest, AStationHandsOverToNoServerButItsOwn) {
  setenv("QT_QPA_PLATFORM", "offscreen", 1);
  unsetenv("PGPASSFILE");
  const EventServer server({"--lan", "--host", "127.0.0.2"});
  ASSERT_TRUE(server.started());
  TempFolder folder;
  const auto event = [&](std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "event");
    arguments.insert(arguments.end(), {"--data", folder / "my station's"});
    return Nearpoint(arguments);
  };
  const auto merge = [&] { return event({"merge"}); };
  ASSERT_EQ(event({"new", "--name", "Hall", "--day", "2026-03-14"}).status, 0);
  ASSERT_EQ(event({"station", "--join", server.station_file()}).status, 0);
  const ProgramRun joined = merge();
  ASSERT_EQ(joined.status, 0) << joined.err;
  EXPECT_EQ(json::parse(joined.out)["sent"], 1);
  for (const char* file : {"event-server.pem", "event-server.pgpass"}) {
    const auto access =
        std::filesystem::status(folder / "my station's/" + std::string(file)).permissions();
    EXPECT_EQ(access & std::filesystem::perms::all,
              std::filesystem::perms::owner_read | std::filesystem::perms::owner_write);
  }

  std::ifstream text(server.station_file());
  const json right = json::parse(text);
  const auto join = [&](const json& changed) {
    return event({"station", "--join", folder.Write("changed.json", changed.dump())});
  };
  // Somebody else's server under the address of ours, as it would look from here.
  const std::string other = folder / "other.pem";
  ASSERT_EQ(RunProgram("/usr/bin/openssl",
                       {"req", "-new", "-x509", "-nodes", "-newkey", "ec", "-pkeyopt",
                        "ec_paramgen_curve:prime256v1", "-subj", "/CN=nearpoint event", "-keyout",
                        folder / "other.key", "-out", other})
                .status,
            0);
  json wrong = right;
  wrong["certificate"] = folder.Read("other.pem");
  ASSERT_EQ(join(wrong).status, 0);
  const ProgramRun refused = merge();
  EXPECT_EQ(refused.status, 1);
  EXPECT_THAT(refused.err, HasSubstr("this is not the event's server"));
  // The right certificate under another host than it was made for.
  wrong = right;
  std::string address = right["address"];
  wrong["address"] = address.replace(address.find("127.0.0.2"), 9, "127.0.0.3");
  ASSERT_EQ(join(wrong).status, 0);
  EXPECT_THAT(merge().err, HasSubstr("this is not the event's server"));
  // An address alone.
  ASSERT_EQ(event({"station", "--server", right["address"]}).status, 0);
  EXPECT_THAT(merge().err, HasSubstr("join with the file"));
  // And what is no such file is refused at once, and changes nothing.
  for (const char* field : {"address", "password", "certificate", "schema"}) {
    wrong = right;
    wrong[field] = "something else\n";
    EXPECT_EQ(join(wrong).status, 1) << field;
    wrong.erase(field);
    EXPECT_EQ(join(wrong).status, 1) << field;
  }
  EXPECT_THAT(merge().err, HasSubstr("join with the file"));
  ASSERT_EQ(join(right).status, 0);
  EXPECT_EQ(merge().status, 0);
}

}  // namespace
}  // namespace nearpoint
