// calibrate face and calibrate touch on recordings of simulated patients, as the program is run.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>
#include <opencv2/imgcodecs.hpp>

#include "calibration/profile_json.h"
#include "tests/support/cli.h"
#include "vision/card/draw_pattern.h"
#include "vision/simulate/studio.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using simulate::CardPlace;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

simulate::PatientOptions Patient() {
  simulate::PatientOptions o;
  o.optics.camera = simulate::PinholeCamera(960, 540, Angle::Degrees(55));
  o.optics.aperture = {};  // the blur of a lens takes long to draw, and none of this is about it
  o.target_mm = {0, 0, 0};
  simulate::CardProp card;
  card.picture = DrawCardPattern(10);
  o.card = card;
  return o;
}

// A recording: the pictures in a folder with their times.
class Recording {
 public:
  void Add(const cv::Mat& picture, double t_ms) {
    const std::string name = std::to_string(count_++) + ".png";
    cv::imwrite(folder_ / name, picture, {cv::IMWRITE_PNG_COMPRESSION, 1});
    list_ += json{{"file", name}, {"t_ms", t_ms}}.dump() + "\n";
    folder_.Write("frames.jsonl", list_);
  }
  [[nodiscard]] std::string path() const { return folder_.path().string(); }

 private:
  TempFolder folder_;
  std::string list_;
  int count_ = 0;
};

// The head turned from side to side, looking at the lens.
void RecordTurning(const simulate::PatientOptions& options, double turn_deg, Recording& recording) {
  simulate::Studio studio(options);
  constexpr int kPictures = 9;
  for (int i = 0; i < kPictures; ++i) {
    const double yaw = turn_deg * (2.0 * i / (kPictures - 1) - 1);
    const auto state = simulate::Performance::Posed(options, Length::Millimeters(450),
                                                    Angle::Degrees(yaw), {}, {});
    recording.Add(studio.TakeStill(i, state), 200.0 * i);
  }
}

class CalibrateFaceCommandTest : public testing::Test {
 protected:
  void SetUp() override {
    // The camera is known; of the person nothing is.
    nearpoint::Profile profile = simulate::TrueProfile(Patient());
    profile.face = FaceScale{};
    profile.made = {};
    work_.Write("p.json", SerializeProfile(profile));
    before_ = work_.Read("p.json");
  }
  ProgramRun Calibrate(const std::string& what, std::vector<std::string> more) {
    std::vector<std::string> arguments{"calibrate", what, "--profile", work_ / "p.json"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return Nearpoint(arguments);
  }
  [[nodiscard]] json Profile() const { return json::parse(work_.Read("p.json")); }
  void ExpectRefused(const simulate::PatientOptions& options, double turn_deg,
                     const std::string& because) {
    Recording recording;
    RecordTurning(options, turn_deg, recording);
    EXPECT_THAT(Calibrate("face", {"--source", recording.path(), "--unchecked-print"}),
                Refuses(HasSubstr(because)));
    EXPECT_EQ(work_.Read("p.json"), before_);
  }

  TempFolder work_;
  std::string before_;
};

TEST_F(CalibrateFaceCommandTest, FaceFromACardOnTheForehead) {
  Recording recording;
  RecordTurning(Patient(), 12, recording);
  // Nobody has measured this print.
  EXPECT_THAT(Calibrate("face", {"--source", recording.path()}),
              Refuses(AllOf(HasSubstr("94 %"), HasSubstr("sheet --check"))));
  EXPECT_EQ(work_.Read("p.json"), before_);
  ProgramRun run =
      Calibrate("face", {"--source", recording.path(), "--person", "Ann", "--unchecked-print"});
  ASSERT_EQ(run.status, 0) << run.err;
  const json said = json::parse(run.out);
  EXPECT_NEAR(said["face"]["iris_mm"].get<double>() / 11.7, 1, 0.015);
  EXPECT_NEAR(said["face"]["distance_pd_mm"].get<double>() / 62, 1, 0.01);
  EXPECT_NEAR(said["face"]["outer_corners_mm"].get<double>() / 85, 1, 0.01);
  EXPECT_NEAR(said["face"]["inner_corners_mm"].get<double>() / 35, 1, 0.015);
  EXPECT_GT(said["turn_deg"], 20);
  EXPECT_TRUE(said["doubts"].empty());
  // That nobody measured the print is said, kept, and in every deviation.
  EXPECT_THAT(run.err, HasSubstr("known to 4 % only"));
  EXPECT_GT(said["face"]["distance_pd_mm_sd"].get<double>(), 0.04 * 62);
  EXPECT_THAT(Profile()["origin"]["face"]["method"].get<std::string>(),
              HasSubstr("print not measured"));
  const json profile = Profile();
  EXPECT_EQ(profile["origin"]["face"]["person"], "Ann");
  EXPECT_NEAR(profile["face"]["iris_mm"].get<double>(), said["face"]["iris_mm"].get<double>(),
              0.006);

  // A ruler says how large it is, and the lengths follow.
  run = Calibrate("sheet", {"--ruler-mm", "99.6"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(Profile()["origin"]["print"]["method"].get<std::string>(), HasSubstr("99.6 %"));
  run = Calibrate("face", {"--source", recording.path()});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_THAT(run.err, Not(HasSubstr("print")));
  const json measured = Profile();
  EXPECT_LT(measured["face"]["distance_pd_mm_sd"].get<double>(), 0.012 * 62);
  for (const char* length : {"iris_mm", "distance_pd_mm", "outer_corners_mm"}) {
    EXPECT_NEAR(measured["face"][length].get<double>() / profile["face"][length].get<double>(),
                0.996, 1e-6)
        << length;
  }
}

TEST_F(CalibrateFaceCommandTest, AGlossyReflectionAndFingersAtTheEndsDoNoHarm) {
  auto options = Patient();
  options.card->glare = Length::Millimeters(7);
  options.card->fingers = Length::Millimeters(14);
  Recording recording;
  RecordTurning(options, 12, recording);
  const ProgramRun run = Calibrate("face", {"--source", recording.path(), "--unchecked-print"});
  ASSERT_EQ(run.status, 0) << run.err;
  EXPECT_NEAR(Profile()["face"]["iris_mm"].get<double>() / 11.7, 1, 0.015);
  EXPECT_NEAR(Profile()["face"]["distance_pd_mm"].get<double>() / 62, 1, 0.01);
}

TEST_F(CalibrateFaceCommandTest, WhatCannotBeTrueIsRefusedWithTheReason) {
  ExpectRefused(Patient(), 3, "turn it slowly");
  auto bent = Patient();
  bent.card->bend = Length::Millimeters(5);
  ExpectRefused(bent, 12, "the card is bent");
  auto covered = Patient();
  covered.card->fingers = Length::Millimeters(42);
  ExpectRefused(covered, 12, "too little of the card's pattern");
  // A print at 88 %: everything comes out an eighth too large.
  auto small = Patient();
  small.card->width = Length::Millimeters(0.88 * 85.60);
  small.card->height = Length::Millimeters(0.88 * 53.98);
  ExpectRefused(small, 12, "outside what people have");
  EXPECT_THAT(Calibrate("face", {"--source", work_ / "none", "--unchecked-print"}),
              Refuses(HasSubstr("none")));
}

TEST_F(CalibrateFaceCommandTest, TouchSetsTheZeroOfTheHeldCard) {
  auto options = Patient();
  options.card->place = CardPlace::kTouch;
  options.behaviour.trials = 1;
  options.behaviour.start = Length::Millimeters(400);
  options.behaviour.hold = std::chrono::seconds(4);
  options.behaviour.frames_per_second = 10;
  {
    nearpoint::Profile known = simulate::TrueProfile(options);
    known.made = {};
    work_.Write("p.json", SerializeProfile(known));
    before_ = work_.Read("p.json");
  }
  Recording touch;
  Recording before_touch;
  auto patient = simulate::MakePatient(options);
  ASSERT_TRUE(patient.has_value());
  for (int i = 0; i < 45; ++i) {
    const auto frame = (*patient)->Next();
    ASSERT_TRUE(frame && *frame);
    touch.Add((*frame)->bgr(), 100.0 * i);
    if (i < 18) before_touch.Add((*frame)->bgr(), 100.0 * i);
  }
  EXPECT_THAT(Calibrate("touch", {"--source", touch.path()}), Refuses(HasSubstr("94 %")));
  EXPECT_THAT(Calibrate("touch", {"--source", before_touch.path(), "--unchecked-print"}),
              Refuses(HasSubstr("did not rest on the nose")));
  EXPECT_EQ(work_.Read("p.json"), before_);

  const ProgramRun run = Calibrate("touch", {"--source", touch.path(), "--unchecked-print"});
  ASSERT_EQ(run.status, 0) << run.err;
  const json said = json::parse(run.out);
  EXPECT_NEAR(said["zero_mm"].get<double>(), 0, 3 * said["zero_mm_sd"].get<double>());
  const json profile = Profile();
  EXPECT_EQ(profile["setup"], "held_card");
  EXPECT_NEAR(profile["held_card"]["zero_mm"].get<double>(), said["zero_mm"].get<double>(), 0.006);
}

TEST_F(CalibrateFaceCommandTest, WrongUsageIsStatusTwo) {
  EXPECT_EQ(Calibrate("face", {}).status, 2);
  EXPECT_EQ(Calibrate("face", {"--source", "0", "--age", "900"}).status, 2);
  EXPECT_EQ(Calibrate("touch", {"--source", "0", "--touch-mm", "1"}).status, 2);
}

}  // namespace
}  // namespace nearpoint
