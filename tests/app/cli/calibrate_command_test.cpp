#include <gmock/gmock.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <opencv2/imgcodecs.hpp>

#include "calibration/origin.h"
#include "tests/support/card_studio.h"
#include "tests/support/cli.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

CameraIntrinsics Webcam() {
  CameraIntrinsics camera;
  camera.width = 640;
  camera.height = 480;
  camera.fx = 560;
  camera.fy = 560.2;
  camera.cx = 322;
  camera.cy = 237;
  camera.distortion = {-0.06, 0.02, 0.0004, -0.0003, 0};
  return camera;
}

// Photos of the card, ten seconds apart.
std::string CardPhotos(const TempFolder& folder, const drawn::DrawnCard& card, int count) {
  std::mt19937_64 random(9);
  std::string list;
  int number = 0;
  for (const drawn::CardPose& pose : drawn::DrawPoses(Webcam(), count, random, 35, 0.5)) {
    drawn::CardScene scene;
    scene.seed = random();
    const std::string name = std::to_string(number) + ".png";
    cv::imwrite(folder / name, TakePicture(Webcam(), {{&card, pose}}, scene));
    list += json{{"file", name}, {"t_ms", 10000.0 * number++}}.dump() + "\n";
  }
  folder.Write("frames.jsonl", list);
  return folder.path().string();
}

class CalibrateCommandTest : public testing::Test {
 protected:
  CalibrateCommandTest() : profile_(work_ / "p.json") {}

  ProgramRun Calibrate(const std::string& what, std::vector<std::string> more,
                       bool with_profile = true) {
    std::vector<std::string> arguments{"calibrate", what};
    if (with_profile) arguments.insert(arguments.end(), {"--profile", profile_});
    arguments.insert(arguments.end(), more.begin(), more.end());
    return Nearpoint(arguments);
  }
  json Profile() const { return json::parse(work_.Read("p.json")); }
  void StartProfile() { work_.Write("p.json", GoodProfile(640, 480).dump()); }

  TempFolder work_;
  std::string profile_;
};

TEST_F(CalibrateCommandTest, CameraFromPhotosOfThePatternCard) {
  TempFolder photos;
  const std::string source = CardPhotos(photos, drawn::PatternCard(), 12);
  const ProgramRun run = Calibrate("camera", {"--source", source, "--device", "Cam A"});
  ASSERT_EQ(run.status, 0) << run.err;
  const json said = json::parse(run.out);
  EXPECT_EQ(said["verdict"], "good");
  EXPECT_EQ(said["views"].size(), 12u);
  EXPECT_THAT(run.err, HasSubstr("focal length"));
  const json profile = Profile();
  EXPECT_EQ(profile["schema"], "nearpoint/profile/1");
  EXPECT_EQ(profile["camera"]["width"], 640);
  EXPECT_NEAR(profile["camera"]["fx"].get<double>() / 560, 1, 0.003);
  EXPECT_NEAR(profile["camera"]["distortion"][0].get<double>(), -0.06, 0.03);
  EXPECT_EQ(profile["origin"]["camera"]["device"], "Cam A");
  EXPECT_EQ(profile["origin"]["camera"]["date"],
            FormatDay(std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now())));
  EXPECT_THAT(profile["origin"]["camera"]["method"].get<std::string>(),
              HasSubstr("pattern card, 12"));
  // Nobody measured the rest: assumed, and not dated.
  EXPECT_TRUE(profile["face"]["iris_mm"].is_null());
  EXPECT_FALSE(profile["origin"].contains("lag"));
  EXPECT_GT(profile["lag_sd_ms"], 0);
  EXPECT_EQ(work_.Count(), 1);

  // The rest of a profile that is there is kept.
  json other = profile;
  other["face"]["iris_mm"] = 11.9;
  other["face"]["iris_mm_sd"] = 0.1;
  other["lag_ms"] = 280;
  work_.Write("p.json", other.dump());
  ASSERT_EQ(Calibrate("camera", {"--source", source}).status, 0);
  EXPECT_EQ(Profile()["face"]["iris_mm"], 11.9);
  EXPECT_EQ(Profile()["lag_ms"], 280);
}

TEST_F(CalibrateCommandTest, CameraFromAPlainCard) {
  TempFolder photos;
  const std::string source = CardPhotos(photos, drawn::BankCard(), 12);
  const ProgramRun run = Calibrate("camera", {"--source", source, "--card", "plain"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_NEAR(Profile()["camera"]["fx"].get<double>() / 560, 1, 0.01);
  EXPECT_THAT(Calibrate("camera", {"--source", source}),
              Refuses(HasSubstr("pattern side of the card is not to be seen")));
}

TEST_F(CalibrateCommandTest, ARefusedCardLeavesNoProfile) {
  TempFolder photos;
  const std::string source = CardPhotos(photos, drawn::BankCard(0.75, true, 100, 60), 12);
  EXPECT_THAT(Calibrate("camera", {"--source", source, "--card", "plain"}),
              Refuses(AllOf(HasSubstr("not a card of ID-1 size"), HasSubstr("60.0 %"))));
  EXPECT_EQ(work_.Count(), 0);
  TempFolder few;
  EXPECT_THAT(Calibrate("camera", {"--source", CardPhotos(few, drawn::PatternCard(), 2)}),
              Refuses(HasSubstr("2 pictures")));
  TempFolder grey;
  EXPECT_THAT(Calibrate("camera", {"--source", GreyRecording(grey, 3)}),
              Refuses(HasSubstr("none of 3 pictures")));
  EXPECT_THAT(Calibrate("camera", {"--source", "987"}), Refuses(HasSubstr("camera 987")));
  EXPECT_EQ(work_.Count(), 0);
}

TEST_F(CalibrateCommandTest, ScreenPlacesTheTarget) {
  StartProfile();
  ProgramRun run = Calibrate("screen", {"--strip-mm", "12", "0"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_EQ(Profile()["target_mm"], json({0, 12, 0}));
  EXPECT_EQ(Profile()["origin"]["target"]["method"], "printed strip under the lens");

  // 0.2 mm a pixel.
  run = Calibrate(
      "screen", {"--outline-px", "428", "270", "--lens-mm", "160", "-8", "--target-px", "850", "40",
                 "--screen-px", "1600", "900", "--reported-mm", "500", "280"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_NEAR(Profile()["target_mm"][0].get<double>(), -10, 0.1);
  EXPECT_NEAR(Profile()["target_mm"][1].get<double>(), 16, 0.1);
  EXPECT_THAT(run.err, AllOf(HasSubstr("500 mm"), HasSubstr("320 mm")));
  EXPECT_THAT(Calibrate("screen", {"--strip-mm", "900", "0"}), Refuses(HasSubstr("200 mm")));
}

TEST_F(CalibrateCommandTest, LagFromAFileOfTimes) {
  StartProfile();
  std::string csv = "shown_ms,pressed_ms\n";
  for (int i = 0; i < 10; ++i) {
    csv += std::to_string(3000 * i) + "," + std::to_string(3000 * i + 240 + 4 * i) + "\n";
  }
  const std::string times = work_.Write("t.csv", csv);
  const ProgramRun run = Calibrate("lag", {"--times", times, "--person", "Ann"});
  ASSERT_EQ(run.status, 0) << run.err;
  const json said = json::parse(run.out);
  EXPECT_NEAR(said["reaction_ms"].get<double>(), 258, 0.1);
  EXPECT_EQ(said["counted"], 10);
  EXPECT_EQ(said["presses"].size(), 10u);
  EXPECT_THAT(run.err, HasSubstr("not measured"));
  const json profile = Profile();
  EXPECT_NEAR(profile["lag_ms"].get<double>(), said["lag_ms"].get<double>(), 0.1);
  EXPECT_EQ(profile["origin"]["lag"]["person"], "Ann");
  EXPECT_THAT(profile["origin"]["lag"]["method"].get<std::string>(),
              AllOf(HasSubstr("screen 37 ms (16) bounded"), HasSubstr("camera 42 ms")));
  EXPECT_EQ(said["capture_measured"], false);

  // A second person's time in the first person's profile.
  json mixed = profile;
  mixed["origin"]["face"] = mixed["origin"]["lag"];
  work_.Write("p.json", mixed.dump());
  EXPECT_THAT(Calibrate("lag", {"--times", times, "--person", "Ben"}),
              Refuses(AllOf(HasSubstr("p.json"), HasSubstr("Ann"), HasSubstr("Ben"))));
  EXPECT_EQ(Profile(), mixed);

  EXPECT_THAT(Calibrate("lag", {"--times", work_.Write("bad.csv", "shown_ms,pressed_ms\n1,x\n")}),
              Refuses(AllOf(HasSubstr("bad.csv"), HasSubstr("line 2"))));
  EXPECT_THAT(Calibrate("lag", {"--times", work_ / "none.csv"}), Refuses(HasSubstr("none.csv")));
  EXPECT_THAT(Calibrate("lag", {"--times", times, "--camera", "987"}),
              Refuses(HasSubstr("camera 987")));
}

TEST_F(CalibrateCommandTest, WhatComesFirstIsSaid) {
  EXPECT_THAT(Calibrate("screen", {"--strip-mm", "12", "0"}),
              Refuses(AllOf(HasSubstr("p.json"), HasSubstr("calibrate camera"))));
  EXPECT_THAT(Calibrate("lag", {}), Refuses(HasSubstr("calibrate camera")));
}

TEST_F(CalibrateCommandTest, SheetIsAPdfAndARulerChecksIt) {
  const std::string pdf = work_ / "sheet.pdf";
  for (const char* paper : {"a4", "letter"}) {
    const ProgramRun run = Calibrate("sheet", {"--out", pdf, "--paper", paper}, false);
    ASSERT_EQ(run.status, 0) << run.err;
    EXPECT_EQ(run.out, "");
    EXPECT_THAT(run.err, HasSubstr("100 %"));
    EXPECT_EQ(work_.Read("sheet.pdf").substr(0, 5), "%PDF-");
  }
  EXPECT_EQ(Calibrate("sheet", {"--ruler-mm", "100"}, false).status, 0);
  EXPECT_THAT(Calibrate("sheet", {"--ruler-mm", "96.5"}, false), Refuses(HasSubstr("96.5 %")));
  EXPECT_THAT(Calibrate("sheet", {"--out", work_ / "none/s.pdf"}, false),
              Refuses(HasSubstr("folder does not exist")));
}

// Sheet and a bank card together before the camera.
TEST_F(CalibrateCommandTest, ASheetBesideARealCardTellsItsScale) {
  CameraIntrinsics camera;
  camera.width = 1280;
  camera.height = 720;
  camera.fx = camera.fy = 1010;
  camera.cx = 648;
  camera.cy = 352;
  json profile = GoodProfile(camera.width, camera.height);
  for (const auto& [name, value] : {std::pair{"fx", camera.fx}, std::pair{"fy", camera.fy},
                                    std::pair{"cx", camera.cx}, std::pair{"cy", camera.cy}}) {
    profile["camera"][name] = value;
  }
  profile["camera"]["distortion"] = {0, 0, 0, 0, 0};
  work_.Write("p.json", profile.dump());
  const auto check = [&](double scale) {
    TempFolder photos;
    std::string list;
    for (const int i : {0, 1}) {
      const std::string name = std::to_string(i) + ".png";
      cv::imwrite(photos / name, drawn::TakeSheetPicture(camera, scale, 8.0 * i));
      list += json{{"file", name}, {"t_ms", 1000.0 * i}}.dump() + "\n";
    }
    photos.Write("frames.jsonl", list);
    return Calibrate("sheet", {"--check", photos.path().string()});
  };
  const std::string before = work_.Read("p.json");
  EXPECT_THAT(check(0.94), Refuses(testing::ContainsRegex("printed at 9[34]\\.[0-9] %")));
  EXPECT_EQ(work_.Read("p.json"), before);
  EXPECT_THAT(Calibrate("face", {"--source", work_ / "none"}), Refuses(HasSubstr("94 %")));

  const ProgramRun run = check(1);
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_NEAR(Profile()["print"]["width"].get<double>(), 1, 0.004);
  EXPECT_LT(Profile()["print"]["rel_sd"].get<double>(), 0.004);
  EXPECT_THAT(Profile()["origin"]["print"]["method"].get<std::string>(), HasSubstr("real card"));
  EXPECT_THAT(Calibrate("face", {"--source", work_ / "none"}), Refuses(HasSubstr("none")));
}

// What a camera is does not depend on how large its card was printed.
TEST_F(CalibrateCommandTest, AScaledPrintGivesTheSameCamera) {
  TempFolder photos;
  const std::string source = CardPhotos(photos, drawn::PatternCard(0.94), 12);
  const ProgramRun run = Calibrate("camera", {"--source", source});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_NEAR(Profile()["camera"]["fx"].get<double>() / 560, 1, 0.003);
  EXPECT_THAT(run.err, HasSubstr("sheet --check"));
}

TEST_F(CalibrateCommandTest, WrongUsageIsStatusTwo) {
  EXPECT_EQ(Nearpoint({"calibrate"}).status, 2);
  EXPECT_EQ(Nearpoint({"calibrate", "camera"}).status, 2);
  EXPECT_EQ(Calibrate("sheet", {}, false).status, 2);
  EXPECT_EQ(Calibrate("sheet", {"--check", "0"}, false).status, 2);
  EXPECT_EQ(Calibrate("sheet", {"--out", "x.pdf", "--paper", "a5"}, false).status, 2);
  EXPECT_EQ(Calibrate("screen", {}).status, 2);
  EXPECT_EQ(Calibrate("screen", {"--outline-px", "428", "270"}).status, 2);
  EXPECT_EQ(Calibrate("camera", {"--source", "0", "--card", "round"}).status, 2);
  EXPECT_EQ(Calibrate("lag", {"--screen-hz", "0"}).status, 2);
  for (const char* what : {"camera", "screen", "lag", "sheet"}) {
    const ProgramRun help = Nearpoint({"calibrate", what, "--help"});
    EXPECT_EQ(help.status, 0) << what;
    EXPECT_THAT(help.out, HasSubstr("Usage")) << what;
  }
}

}  // namespace
}  // namespace nearpoint
