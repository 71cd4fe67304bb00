// nearpoint event on one laptop, without a server.
#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;
using testing::SizeIs;

class EventCommandTest : public testing::Test {
 protected:
  ProgramRun Event(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "event");
    arguments.insert(arguments.end(), {"--data", folder_ / "station"});
    return Nearpoint(arguments);
  }
  void Begin() {
    ASSERT_EQ(Event({"new", "--name", "Hall", "--day", "2026-03-14"}).status, 0);
    const std::string roster = folder_.Write(
        "roster.csv",
        "number,name,class,age,consent\n1,Ann Lee,3a,8,yes\n2,Ben Roe,3a,9,yes\n3,Cid,3b,8,\n");
    ASSERT_EQ(Event({"import", roster}).status, 0);
  }
  std::vector<json> Run(const std::vector<json>& lines) {
    std::string script;
    for (const json& line : lines) script += line.dump() + "\n";
    const ProgramRun run = Event({"run", folder_.Write("script", script)});
    EXPECT_EQ(run.status, 0) << run.err;
    return JsonLines(run.out);
  }
  static json Measure(const char* number, double break_mm) {
    json trials = json::array();
    for (int i = 0; i < 3; ++i) {
      trials.push_back({{"break_mm", break_mm + i},
                        {"break_sd_mm", 1},
                        {"recovery_mm", nullptr},
                        {"recovery_sd_mm", nullptr},
                        {"censored", nullptr},
                        {"approach_speed_mm_s", nullptr},
                        {"set_aside", nullptr}});
    }
    return {{"do", "measure"},
            {"number", number},
            {"session", {{"schema", "nearpoint/session/1"}, {"trials", trials}}}};
  }
  json Numbers() { return json::parse(Event({"numbers"}).out); }

  TempFolder folder_;
};

TEST_F(EventCommandTest, AFaultyRosterImportsNobodyAndNamesEveryFault) {
  ASSERT_EQ(Event({"new", "--name", "Hall", "--day", "2026-03-14"}).status, 0);
  const std::string file = folder_.Write("bad.csv", "no,name,age\n1,Ann,8\n1,Ben,9\n3,Cid,99\n");
  const ProgramRun run = Event({"import", file});
  EXPECT_EQ(run.status, 1);
  EXPECT_THAT(run.err, HasSubstr("nothing was imported"));
  const json report = json::parse(run.out);
  ASSERT_THAT(report["faults"], SizeIs(2));
  EXPECT_EQ(report["faults"][0]["line"], 3);
  EXPECT_EQ(report["faults"][1]["column"], "age");
  EXPECT_EQ(Numbers()["listed"], 0);
}

TEST_F(EventCommandTest, ARosterIsNotImportedTwice) {
  Begin();
  EXPECT_THAT(Event({"import", folder_ / "roster.csv"}).err, HasSubstr("Number 1"));
  EXPECT_EQ(Numbers()["listed"], 3);
}

TEST_F(EventCommandTest, AColumnThatIsNotUnderstoodHoldsTheImportBack) {
  ASSERT_EQ(Event({"new", "--name", "Hall", "--day", "2026-03-14"}).status, 0);
  const std::string file = folder_.Write("odd.csv", "no,name,answer,phone\n1,Ann,no,12\n");
  const ProgramRun run = Event({"import", file});
  EXPECT_EQ(run.status, 1);
  EXPECT_EQ(json::parse(run.out)["columns_not_understood"][0]["name"], "answer");
  EXPECT_EQ(Numbers()["listed"], 0);
  EXPECT_EQ(Event({"import", file, "--column", "number=1", "--column", "name=2", "--column",
                   "consent=3", "--ignore", "4"})
                .status,
            0);
  EXPECT_EQ(Numbers()["consent_refused"], 1);
}

TEST_F(EventCommandTest, ColumnsAreChosenByHand) {
  ASSERT_EQ(Event({"new", "--name", "Hall", "--day", "2026-03-14"}).status, 0);
  const std::string file = folder_.Write("odd.csv", "alpha,beta\nAnn,3a\n");
  const ProgramRun run =
      Event({"import", file, "--column", "name=1", "--column", "class=2", "--check"});
  EXPECT_EQ(run.status, 0) << run.err;
  EXPECT_EQ(json::parse(run.out)["columns"]["class"], "beta");
  EXPECT_THAT(Event({"import", file, "--column", "height=1"}).err, HasSubstr("height=1"));
}

TEST_F(EventCommandTest, UndoSwapWalkUpAndConsentDoWhatTheySay) {
  Begin();
  const auto answers = Run({Measure("3", 50),
                            Measure("1", 50),
                            Measure("2", 170),
                            {{"do", "swap"}, {"number", "1"}, {"with", "2"}}});
  ASSERT_THAT(answers, SizeIs(4));
  EXPECT_EQ(answers[0]["done"], false);  // no consent
  EXPECT_THAT(answers[0]["why_not"].get<std::string>(), HasSubstr("no consent"));
  EXPECT_EQ(answers[3]["done"], true);
  const std::string list = Event({"numbers", "--children"}).out;
  EXPECT_THAT(list, HasSubstr("1,Ann Lee,3a,8.0,given,measured,see a professional"));
  EXPECT_THAT(list, HasSubstr("2,Ben Roe,3a,9.0,given,measured,within"));

  Run({{{"do", "undo"}},
       {{"do", "walk-up"}, {"number", "77"}},
       {{"do", "consent"}, {"number", "77"}, {"how", "parent present"}},
       Measure("77", 50),
       {{"do", "hand-over"}, {"to", "Ines"}}});
  const json numbers = Numbers();
  EXPECT_EQ(numbers["listed"], 4);
  EXPECT_EQ(numbers["measured"], 2);
  EXPECT_EQ(numbers["undone"], 1);
}

TEST_F(EventCommandTest, AfterTheEventThereAreLettersTablesAndBulkData) {
  Begin();
  json nothing = Measure("3", 50);
  for (json& trial : nothing["session"]["trials"]) {
    trial["break_mm"] = nullptr;
    trial["break_sd_mm"] = nullptr;
    trial["set_aside"] = "no report was made";
  }
  Run({Measure("1", 50), Measure("2", 170), {{"do", "consent"}, {"number", "3"}}, nothing});
  EXPECT_EQ(Numbers()["without_a_number"], 1);
  ASSERT_EQ(Event({"letters", "--out", folder_ / "l.pdf", "--all", "--language", "de"}).status, 0);
  EXPECT_TRUE(folder_.Read("l.pdf").starts_with("%PDF"));
  const ProgramRun run = Event({"export", "--out", folder_ / "out"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(folder_.Read("out/children.csv"), HasSubstr("Ben Roe"));
  EXPECT_THAT(folder_.Read("out/numbers.csv"), HasSubstr("see a professional,1"));
  std::set<std::string> places;
  std::string all;
  for (const char* type : {"Observation", "Device", "DiagnosticReport", "Provenance"}) {
    const std::string text = folder_.Read("out/fhir/" + std::string(type) + ".ndjson");
    all += text;
    const auto lines = JsonLines(text);
    EXPECT_THAT(lines, SizeIs(std::string(type) == "Device" ? testing::Ge(1u) : testing::Ge(2u)));
    for (const json& line : lines) {
      EXPECT_EQ(line["resourceType"], type);
      EXPECT_TRUE(places.insert(std::string(type) + "/" + line["id"].get<std::string>()).second);
    }
  }
  // Names stay out, and every reference leads to a line of these files.
  EXPECT_THAT(all, AllOf(Not(HasSubstr("Ann")), Not(HasSubstr("urn:uuid:urn"))));
  for (std::size_t at = all.find("\"reference\":\""); at != std::string::npos;
       at = all.find("\"reference\":\"", at + 1)) {
    const std::size_t begin = at + 13;
    EXPECT_TRUE(places.contains(all.substr(begin, all.find('"', begin) - begin)))
        << all.substr(begin, 60);
  }
}

// Sessions that read alike are of as many children as there are, with all of their observations.
TEST_F(EventCommandTest, ChildrenWhoseSessionsReadAlikeAllAreInTheBulkData) {
  Begin();
  json alike = Measure("1", 50);
  for (json& trial : alike["session"]["trials"]) trial["break_mm"] = 50;
  std::vector<json> lines;
  for (const char* number : {"1", "2", "3"}) {
    if (std::string(number) == "3") lines.push_back({{"do", "consent"}, {"number", "3"}});
    alike["number"] = number;
    lines.push_back(alike);
  }
  Run(lines);
  ASSERT_EQ(Event({"export", "--out", folder_ / "out"}).status, 0);
  const auto observations = JsonLines(folder_.Read("out/fhir/Observation.ndjson"));
  std::set<std::string> subjects, ids;
  for (const json& line : observations) {
    subjects.insert(line["subject"]["identifier"]["value"].get<std::string>());
    ids.insert(line["id"].get<std::string>());
  }
  EXPECT_EQ(observations.size(), 3u);
  EXPECT_EQ(subjects, (std::set<std::string>{"1", "2", "3"}));
  EXPECT_EQ(ids.size(), 3u);
  std::set<std::string> files;
  for (const auto& file : std::filesystem::directory_iterator(folder_ / "out/sessions")) {
    files.insert(file.path().filename().string());
  }
  EXPECT_EQ(files, (std::set<std::string>{"0001.json", "0002.json", "0003.json"}));
  EXPECT_THAT(folder_.Read("out/children.csv"), HasSubstr(",0003.json"));
}

TEST_F(EventCommandTest, ANumberThatLeadsElsewhereIsRefused) {
  Begin();
  const auto answers = Run({{{"do", "walk-up"}, {"number", "../../x"}}});
  EXPECT_EQ(answers[0]["done"], false);
  EXPECT_EQ(Numbers()["listed"], 3);
}

TEST_F(EventCommandTest, TheYieldIsSaidWithWhatItRestsOn) {
  const ProgramRun run = Nearpoint({"event", "yield", "--simulated", "300"});
  ASSERT_EQ(run.status, 0) << run.err;
  const json yield = json::parse(run.out);
  ASSERT_THAT(yield["equipment"], SizeIs(3));
  for (const json& line : yield["equipment"]) {
    EXPECT_NEAR(line["truly_beyond"].get<double>(), 30, 1);
  }
  EXPECT_THAT(yield["rests_on"].dump(), AllOf(HasSubstr("Hayes"), HasSubstr("rendered faces")));
}

TEST_F(EventCommandTest, ARuleThatCannotHoldIsRefused) {
  EXPECT_THAT(Event({"new", "--name", "x", "--day", "2026-03-14", "--norm", "magic"}),
              Refuses(HasSubstr("magic")));
  EXPECT_THAT(Event({"new", "--name", "x", "--day", "14 March"}), Refuses(HasSubstr("2026-03-14")));
  EXPECT_THAT(Event({"new", "--name", "x", "--day", "2026-03-14", "--refer-from", "0.3"}),
              Refuses(HasSubstr("probabilities")));
  EXPECT_THAT(Event({"numbers"}), Refuses(HasSubstr("event new")));
}

}  // namespace
}  // namespace nearpoint
