#include <gmock/gmock.h>
#include <sys/stat.h>

#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

class ExchangeCommandsTest : public testing::Test {
 protected:
  void SetUp() override {
    clinic_ = json::parse(Keys("clinic", {"new", "--name", "clinic"}).out);
    home_ = json::parse(Keys("home", {"new", "--name", "home of Kim"}).out);
    session_ = work_.Write("monday.json", Session("2026-03-02T07:45:00+01:00"));
  }
  [[nodiscard]] std::string FolderOf(const std::string& who) const {
    return work_ / (who + "-keys");
  }
  ProgramRun Keys(const std::string& who, std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "keys");
    arguments.insert(arguments.end(), {"--keys", FolderOf(who)});
    return Nearpoint(arguments);
  }
  ProgramRun Unseal(const std::string& who, std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), "unseal");
    arguments.insert(arguments.end(), {"--keys", FolderOf(who)});
    return Nearpoint(arguments);
  }
  static std::string Session(const char* moment) {
    const json trial = {{"break_mm", 80},         {"break_sd_mm", 1},
                        {"recovery_mm", nullptr}, {"recovery_sd_mm", nullptr},
                        {"censored", nullptr},    {"approach_speed_mm_s", nullptr},
                        {"set_aside", nullptr}};
    return json{{"schema", "nearpoint/session/1"}, {"started_at", moment}, {"trials", {trial}}}
        .dump();
  }
  std::string Seal() {
    std::string file = work_ / "out.sealed";
    const ProgramRun run = Nearpoint(
        {"seal", session_, "--to", clinic_["card"], "--out", file, "--keys", FolderOf("home")});
    EXPECT_EQ(run.status, 0) << run.err;
    return file;
  }

  TempFolder work_;
  json clinic_, home_;
  std::string session_;
};

TEST_F(ExchangeCommandsTest, ACardGoesOverAsAQrCode) {
  const std::string picture = work_ / "clinic.png";
  const ProgramRun shown = Keys("clinic", {"show", "--qr", picture});
  ASSERT_EQ(shown.status, 0) << shown.err;
  const ProgramRun added = Keys("home", {"add", "Dr. Ade", "@" + picture});
  ASSERT_EQ(added.status, 0) << added.err;
  EXPECT_EQ(json::parse(added.out)["card"], clinic_["card"]);
  EXPECT_EQ(json::parse(added.out)["fingerprint"], clinic_["fingerprint"]);
  std::string grey = "P2\n60 60\n255\n";
  for (int i = 0; i < 60 * 60; ++i) grey += "128 ";
  const std::string empty = work_.Write("empty.pgm", grey);
  EXPECT_THAT(Keys("home", {"add", "Empty", "@" + empty}), Refuses(HasSubstr("no QR code")));
  EXPECT_THAT(Keys("home", {"add", "None", "@" + session_}), Refuses(HasSubstr("no card")));
}

TEST_F(ExchangeCommandsTest, FromHomeToTheClinic) {
  ASSERT_EQ(Keys("home", {"add", "Dr. Ade", clinic_["card"]}).status, 0);
  const std::string card = work_.Write("home.card", home_["card"].get<std::string>() + "\n");
  const ProgramRun added = Keys("clinic", {"add", "Kim", "@" + card});
  ASSERT_EQ(added.status, 0) << added.err;
  EXPECT_EQ(json::parse(added.out)["fingerprint"], home_["fingerprint"]);
  EXPECT_THAT(added.err, HasSubstr("fingerprint"));

  const std::string file = work_ / "out.sealed";
  const ProgramRun sealed =
      Nearpoint({"seal", session_, "--to", "Dr. Ade", "--out", file, "--keys", FolderOf("home")});
  ASSERT_EQ(sealed.status, 0) << sealed.err;
  const json listing = json::parse(sealed.out);
  EXPECT_THAT(listing["inside"].dump(),
              AllOf(HasSubstr("monday.json"), HasSubstr("1 trial"), HasSubstr("No pictures.")));
  EXPECT_EQ(listing["to"], clinic_["fingerprint"]);

  const std::string inbox = work_ / "inbox";
  const ProgramRun opened = Unseal("clinic", {file, "--out", inbox});
  ASSERT_EQ(opened.status, 0) << opened.err;
  const json result = json::parse(opened.out);
  EXPECT_EQ(result["from"]["name"], "Kim");
  EXPECT_EQ(result["from"]["known"], true);
  EXPECT_EQ(result["id"], listing["id"]);
  EXPECT_EQ(work_.Read("inbox/monday.json"), work_.Read("monday.json"));
  // What is there already stays.
  EXPECT_THAT(Unseal("clinic", {file, "--out", inbox}), Refuses(HasSubstr("is there already")));
}

TEST_F(ExchangeCommandsTest, SaysWhatWouldBeInsideBeforeItIsMade) {
  const ProgramRun run = Nearpoint({"seal", session_, "--list"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, AllOf(HasSubstr("2026-03-02T07:45:00+01:00"), HasSubstr("No pictures.")));
}

TEST_F(ExchangeCommandsTest, APlanGoesAsAPlan) {
  const std::string good = R"({"schema": "nearpoint/exercise-plan/1", "source": "clinician",
      "set_by": "A. Optometrist", "repetitions": 10, "hold_s": 5, "levels_mm": [180, 120],
      "first_level": 1, "days_per_week": 5, "time_of_day": "any", "starts": null, "until": null,
      "note": null})";
  const ProgramRun run = Nearpoint({"seal", work_.Write("plan.json", good), "--list"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.out, HasSubstr("a plan for exercises"));
  std::string bad = good;
  bad.replace(bad.find("180, 120"), 8, "120, 180");
  EXPECT_THAT(Nearpoint({"seal", work_.Write("bad.json", bad), "--list"}),
              Refuses(AllOf(HasSubstr("bad.json"), HasSubstr("levels_mm"))));
}

TEST_F(ExchangeCommandsTest, AnUnknownSenderWaits) {
  const std::string file = Seal();
  // Looking is allowed, and says whom to ask; the name is what the sender claims.
  const json look = json::parse(Unseal("clinic", {file}).out);
  EXPECT_EQ(look["from"]["known"], false);
  EXPECT_EQ(look["from"]["fingerprint"], home_["fingerprint"]);
  EXPECT_THAT(Unseal("clinic", {file, "--out", work_ / "inbox"}),
              Refuses(AllOf(HasSubstr("not known"), HasSubstr(home_["fingerprint"]))));
  EXPECT_FALSE(std::filesystem::exists(work_ / "inbox"));
  EXPECT_EQ(Unseal("clinic", {file, "--out", work_ / "inbox", "--accept-unknown"}).status, 0);
}

TEST_F(ExchangeCommandsTest, NamesWhatIsWrong) {
  const std::string file = Seal();
  EXPECT_THAT(Unseal("home", {file}), Refuses(HasSubstr("another recipient")));
  std::string bytes = work_.Read("out.sealed");
  bytes[100] ^= 1;
  EXPECT_THAT(Unseal("clinic", {work_.Write("bad.sealed", bytes)}),
              Refuses(AllOf(HasSubstr("bad.sealed"), HasSubstr("changed on its way"))));
  EXPECT_THAT(Unseal("clinic", {session_}), Refuses(HasSubstr("not a sealed file")));
  EXPECT_THAT(Unseal("nobody", {file}), Refuses(HasSubstr("nearpoint keys new")));
  EXPECT_THAT(
      Nearpoint({"seal", session_, "--to", "Dr. No", "--out", file, "--keys", FolderOf("home")}),
      Refuses(HasSubstr("Dr. No")));
  EXPECT_THAT(Nearpoint({"seal", work_.Write("x.json", "{}"), "--list"}),
              Refuses(HasSubstr("x.json")));
  EXPECT_THAT(Nearpoint({"seal", session_, session_, "--list"}), Refuses(HasSubstr("twice")));
  EXPECT_THAT(Keys("home", {"add", "clinic", "nearpoint-card-1:abc"}), Refuses(HasSubstr("slip")));
  EXPECT_THAT(Keys("home", {"new", "--name", "again"}), Refuses(HasSubstr("keys already")));
}

TEST_F(ExchangeCommandsTest, AGiantFileIsNotRead) {
  const std::string giant = work_.Write("giant.sealed", "NPSEALED");
  ASSERT_EQ(truncate(giant.c_str(), off_t{10} << 30), 0);  // 10 GB, none of it on the disk
  EXPECT_THAT(Unseal("clinic", {giant}), Refuses(HasSubstr("larger than a sealed file")));
}

}  // namespace
}  // namespace nearpoint
