#include "app/records/session_json.h"

#include <gmock/gmock.h>

#include <limits>
#include <nlohmann/json.hpp>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

EventDistance At(double mm, double sd_mm, double t_ms) {
  EventDistance at;
  at.time = FromMilliseconds(t_ms);
  at.value = {Length::Millimeters(mm), Length::Millimeters(sd_mm)};
  at.uncorrected = Length::Millimeters(mm - 5);
  return at;
}

Session Example();

TEST(SessionJsonTest, SaysWhatWasWornAndWhatTheFramesTaughtOfIt) {
  Session session = Example();
  EXPECT_FALSE(json::parse(SerializeSession(session)).contains("glasses"));
  session.glasses = Glasses();
  session.glasses->worn = true;
  session.glasses->right = LensPrescription();
  session.glasses->right->sphere.value = Diopters::Of(-3.5);
  session.left_lens = LensEstimate{-2.75, 0.8};
  const auto glasses = json::parse(SerializeSession(session))["glasses"];
  EXPECT_EQ(glasses["worn"], true);
  EXPECT_EQ(glasses["right"]["sphere"], -3.5);
  EXPECT_TRUE(glasses["left"].is_null());
  EXPECT_EQ(glasses["seen"]["left"]["power"], -2.75);
  EXPECT_EQ(glasses["seen"]["left"]["power_sd"], 0.8);
  EXPECT_TRUE(glasses["seen"]["right"].is_null());
  EXPECT_THAT(ParseSessionTrials(SerializeSession(session), "s.json"), IsOk());
}

// 0.25 mm where it doubled at 79.5 mm: atan(0.25 / 79.5) is 10.81 minutes of arc.
TEST(SessionJsonTest, SaysHowFineTheTargetOnTheScreenWas) {
  Session session = Example();
  EXPECT_FALSE(json::parse(SerializeSession(session)).contains("target_detail_mm"));
  session.target_on = "screen";
  session.target_detail = Length::Millimeters(0.25);
  const auto written = json::parse(SerializeSession(session));
  EXPECT_EQ(written["target_on"], "screen");
  EXPECT_DOUBLE_EQ(written["target_detail_mm"].get<double>(), 0.25);
  EXPECT_NEAR(written["target_detail_arcmin_at_break"].get<double>(), 10.81, 0.006);
  session.estimate.break_mm.reset();
  EXPECT_TRUE(json::parse(SerializeSession(session))["target_detail_arcmin_at_break"].is_null());
}

Session Example() {
  Session session;
  session.source = "video clip.avi";
  session.frames = 100;
  session.frames_lost = 4;
  session.frames_missing = 1;
  session.shared.relative_sd = 0.007;
  session.shared.offset_sd = Length::Millimeters(1.25);
  session.shared.lag_sd = FromMilliseconds(60);
  Trial plain;
  plain.number = 1;
  plain.end = FromMilliseconds(20000);
  plain.break_point = At(80.5, 2, 12000);
  plain.recovery = At(110.25, 3, 15000);
  plain.objective_break = Length::Millimeters(79);
  plain.approach_speed = Speed::MillimetersPerSecond(15.5);
  Trial nose = plain;
  nose.number = 2;
  nose.break_point.reset();
  nose.recovery.reset();
  nose.censored = Censoring::kBelow;
  nose.limit = Length::Millimeters(55);
  Trial aside = plain;
  aside.number = 3;
  aside.set_aside = SetAside::kTooFast;
  aside.break_point.reset();
  session.trials = {plain, nose, aside};
  session.estimate.break_mm = Band{79.5, 70, 90, 0.95};
  session.estimate.recovery_mm = Band{std::nullopt, 100, std::nullopt, 0.95};
  session.estimate.between_trial_sd_mm = 4;
  session.estimate.answer = Answer::kBeyond;
  session.estimate.cut_off = Length::Millimeters(63.5);
  session.estimate.reference_plane = "corneal plane";
  session.estimate.cautions = {"from the estimate"};
  session.cautions = {"from the run"};
  return session;
}

TEST(SessionJsonTest, HasTheFieldsOfTheContract) {
  const json document = json::parse(SerializeSession(Example()));
  EXPECT_EQ(document["schema"], "nearpoint/session/1");
  ASSERT_EQ(document["trials"].size(), 3u);
  const json& plain = document["trials"][0];
  EXPECT_EQ(plain["break_mm"], 80.5);
  EXPECT_EQ(plain["break_sd_mm"], 2.0);
  EXPECT_EQ(plain["recovery_mm"], 110.25);
  EXPECT_EQ(plain["recovery_sd_mm"], 3.0);
  EXPECT_TRUE(plain["censored"].is_null());
  EXPECT_EQ(plain["objective_break_mm"], 79.0);
  EXPECT_TRUE(plain.contains("objective_recovery_mm") && plain["objective_recovery_mm"].is_null());
  EXPECT_EQ(plain["approach_speed_mm_s"], 15.5);
  EXPECT_TRUE(plain["set_aside"].is_null());
  EXPECT_EQ(plain["break_uncorrected_mm"], 75.5);
  const json& nose = document["trials"][1];
  EXPECT_EQ(nose["censored"], "below");
  EXPECT_EQ(nose["break_mm"], 55.0);
  EXPECT_TRUE(nose["break_sd_mm"].is_null());
  EXPECT_TRUE(nose["recovery_mm"].is_null());
  EXPECT_TRUE(document["trials"][2]["set_aside"].is_string());
  const json& estimate = document["estimate"];
  EXPECT_EQ(estimate["break_mm"],
            json::parse(R"({"value": 79.5, "low": 70.0, "high": 90.0, "level": 0.95})"));
  EXPECT_EQ(estimate["recovery_mm"],
            json::parse(R"({"value": null, "low": 100.0, "high": null, "level": 0.95})"));
  EXPECT_TRUE(estimate.contains("trend_mm_per_trial") && estimate["trend_mm_per_trial"].is_null());
  EXPECT_EQ(estimate["between_trial_sd_mm"], 4.0);
  EXPECT_EQ(estimate["answer"], "beyond the cut-off");
  EXPECT_EQ(estimate["cut_off_mm"], 63.5);
  EXPECT_EQ(estimate["reference_plane"], "corneal plane");
  EXPECT_EQ(document["cautions"], json::parse(R"(["from the run", "from the estimate"])"));
}

TrialEyes Drifted() {
  TrialEyes eyes;
  ObjectiveEvent turn;
  turn.time = FromMilliseconds(11600);
  turn.distance = UncertainLength{Length::Millimeters(86.5), Length::Millimeters(1.25)};
  turn.size = Angle::Degrees(8);
  turn.size_sd = Angle::Degrees(0.5);
  ObjectiveEvent back = turn;
  back.time = FromMilliseconds(14500);
  eyes.objective.break_point = turn;
  eyes.objective.recovery = back;
  eyes.objective.eye = DriftingEye::kRight;
  eyes.objective.eye_probability = 0.75;
  eyes.objective.probability = 0.999;
  eyes.objective.frames_used = 300;
  eyes.objective.personal.learned = true;
  eyes.objective.personal.vergence.gain = 1.05;
  eyes.objective.personal.vergence.offset = Angle::Degrees(3);
  eyes.objective.personal.vergence.covariance << 0.25, 0, 0, 0.0004;
  eyes.objective.notes = {"seen", "seen"};
  eyes.agreement.agreement = Agreement::kBothBroke;
  eyes.agreement.break_lag = FromMilliseconds(400);
  eyes.agreement.sentence = "compared";
  return eyes;
}

TEST(SessionJsonTest, SaysWhatTheEyesSaid) {
  Session session = Example();
  session.eyes = {Drifted()};
  session.agreement.flagged = true;
  session.agreement.median_break_lag = FromMilliseconds(400);
  session.agreement.sentences = {"one", "two"};
  const json document = json::parse(SerializeSession(session));
  const json& trial = document["trials"][0];
  EXPECT_EQ(trial["objective_break_sd_mm"], 1.25);
  EXPECT_EQ(trial["objective_break_t_ms"], 11600.0);
  EXPECT_EQ(trial["objective_recovery_t_ms"], 14500.0);
  EXPECT_EQ(trial["drifting_eye"], "right");
  EXPECT_EQ(trial["drifting_eye_probability"], 0.75);
  EXPECT_EQ(trial["drift_deg"], 8.0);
  EXPECT_EQ(trial["drift_probability"], 0.999);
  EXPECT_EQ(trial["report_minus_drift_ms"], 400.0);
  EXPECT_TRUE(trial["report_minus_return_ms"].is_null());
  EXPECT_EQ(trial["vergence_gain"], 1.05);
  EXPECT_EQ(trial["vergence_gain_sd"], 0.02);
  EXPECT_EQ(trial["vergence_offset_deg"], 3.0);
  EXPECT_EQ(trial["vergence_offset_sd_deg"], 0.5);
  EXPECT_TRUE(trial["vergence_why_not"].is_null());
  EXPECT_EQ(trial["agreement"], "agree");
  EXPECT_EQ(trial["notes"], json::parse(R"(["seen", "compared"])"));
  EXPECT_EQ(document["agreement"]["flagged"], true);
  EXPECT_EQ(document["agreement"]["median_report_minus_drift_ms"], 400.0);
  EXPECT_EQ(document["agreement"]["sentences"], json::parse(R"(["one", "two"])"));
  EXPECT_THAT(ParseSessionTrials(document.dump(), "s.json"), IsOk());
}

TEST(SessionJsonTest, SaysNullWhereTheEyesSayNothing) {
  Session session = Example();
  TrialEyes unlearned;
  unlearned.objective.personal.why_not = "too few frames";
  TrialEyes unnamed = Drifted();
  unnamed.objective.eye = DriftingEye::kUnclear;
  unnamed.objective.break_point->distance.reset();
  unnamed.objective.break_point->size_sd = Angle::Degrees(std::numeric_limits<double>::quiet_NaN());
  session.eyes = {unlearned, unnamed};  // and none for the third trial
  const std::string text = SerializeSession(session);
  EXPECT_EQ(text.find("nan"), std::string::npos);
  const json document = json::parse(text);
  EXPECT_EQ(document["trials"][0]["vergence_why_not"], "too few frames");
  for (const int i : {0, 2}) {
    for (const char* name :
         {"objective_break_sd_mm", "objective_break_t_ms", "objective_recovery_sd_mm",
          "objective_recovery_t_ms", "drifting_eye", "drift_deg", "drift_sd_deg",
          "drift_probability", "report_minus_drift_ms", "vergence_gain", "vergence_offset_deg"}) {
      const json& trial = document["trials"][static_cast<std::size_t>(i)];
      EXPECT_TRUE(trial.contains(name) && trial[name].is_null()) << i << ' ' << name;
    }
  }
  EXPECT_TRUE(document["trials"][1]["drifting_eye"].is_null());
  EXPECT_TRUE(document["trials"][1]["objective_break_sd_mm"].is_null());
  EXPECT_TRUE(document["trials"][1]["drift_sd_deg"].is_null());
  EXPECT_EQ(document["trials"][1]["objective_break_t_ms"], 11600.0);
  EXPECT_EQ(document["trials"][2]["agreement"], "cannot tell");
  EXPECT_EQ(document["agreement"]["flagged"], false);
}

TEST(SessionJsonTest, GivesTheTrialsBackForAnEstimate) {
  const auto read = ParseSessionTrials(SerializeSession(Example()), "s.json");
  ASSERT_THAT(read, IsOk());
  ASSERT_EQ(read->trials.size(), 3u);
  EXPECT_EQ(read->trials[0].number, 1);
  EXPECT_EQ(read->trials[0].break_point->value.value.mm(), 80.5);
  EXPECT_EQ(read->trials[0].break_point->value.sd.mm(), 2);
  EXPECT_EQ(read->trials[0].recovery->value.value.mm(), 110.25);
  EXPECT_EQ(read->trials[0].approach_speed->mm_per_s(), 15.5);
  EXPECT_FALSE(read->trials[0].set_aside);
  EXPECT_EQ(read->trials[1].censored, Censoring::kBelow);
  EXPECT_EQ(read->trials[1].limit->mm(), 55);
  EXPECT_FALSE(read->trials[1].break_point);
  EXPECT_TRUE(read->trials[2].set_aside);
  EXPECT_EQ(read->shared.relative_sd, 0.007);
  EXPECT_EQ(read->shared.offset_sd.mm(), 1.25);
  EXPECT_EQ(read->shared.lag_sd, FromMilliseconds(60));
}

TEST(SessionJsonTest, GivesTheSameEstimateAfterTheFile) {
  const Session session = Example();
  const Estimate direct = EstimateNearPoint(session.trials, session.shared);
  const auto read = ParseSessionTrials(SerializeSession(session), "s.json");
  ASSERT_THAT(read, IsOk());
  const Estimate again = EstimateNearPoint(read->trials, read->shared);
  ASSERT_TRUE(direct.break_mm && again.break_mm);
  EXPECT_EQ(direct.break_mm->value, again.break_mm->value);
  EXPECT_EQ(direct.break_mm->low, again.break_mm->low);
  EXPECT_EQ(direct.break_mm->high, again.break_mm->high);
  EXPECT_EQ(direct.answer, again.answer);
}

TEST(SessionJsonTest, KeepsWhenAndWhy) {
  Session session = Example();
  session.started_at = "2026-03-02T07:45:00+01:00";
  session.trials[1].set_aside = SetAside::kByHand;
  session.trials[1].set_aside_words = "the child laughed";
  session.set_aside = EffectOfRules(session.trials, session.shared);
  const std::string text = SerializeSession(session);
  const json document = json::parse(text);
  EXPECT_EQ(document["started_at"], "2026-03-02T07:45:00+01:00");
  const json& rules = document["estimate"]["set_aside"];
  ASSERT_EQ(rules.size(), 2u);
  EXPECT_EQ(rules[0]["reason"], "the child laughed");
  EXPECT_EQ(rules[0]["trials"], json({2}));
  EXPECT_EQ(rules[0]["without_this_rule"]["trials_used"], 2);
  EXPECT_EQ(rules[1]["reason"], ToText(SetAside::kTooFast));
  EXPECT_EQ(rules[1]["without_distance"], json({3}));
  EXPECT_TRUE(rules[1]["without_this_rule"].is_null());

  const auto read = ParseSessionTrials(text, "s.json");
  ASSERT_THAT(read, IsOk());
  EXPECT_EQ(read->started_at->hour, 7.75);
  EXPECT_EQ(read->trials[1].set_aside, SetAside::kByHand);
  EXPECT_EQ(read->trials[1].set_aside_words, "the child laughed");
  EXPECT_EQ(read->trials[2].set_aside, SetAside::kTooFast);
  EXPECT_EQ(read->trials[0].break_point->uncorrected.mm(), 75.5);

  json bad = document;
  bad["started_at"] = "yesterday";
  EXPECT_THAT(ParseSessionTrials(bad.dump(), "s.json"),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("s.json"), HasSubstr("started_at"),
                                                    HasSubstr("2026-03-02"))));
  bad["started_at"] = 5;
  EXPECT_THAT(ParseSessionTrials(bad.dump(), "s.json"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("started_at")));
}

TEST(SessionJsonTest, AListThatLacksATrialKeepsTheNumbers) {
  json document = json::parse(SerializeSession(Example()));
  document["trials"].erase(0);
  const auto read = ParseSessionTrials(document.dump(), "s.json");
  ASSERT_THAT(read, IsOk());
  EXPECT_EQ(read->trials[0].number, 2);
  document["trials"][0].erase("number");
  EXPECT_EQ(ParseSessionTrials(document.dump(), "s.json")->trials[0].number, 1);
}

TEST(SessionJsonTest, NamesWhatIsWrongWithATrial) {
  const json good = json::parse(SerializeSession(Example()));
  const auto parse = [](const json& document) {
    return ParseSessionTrials(document.dump(), "s.json");
  };
  json bad = good;
  bad["trials"][1].erase("break_mm");
  EXPECT_THAT(parse(bad), FailsWith(ErrorCode::kNotFound,
                                    AllOf(HasSubstr("s.json"), HasSubstr("trials[1].break_mm"))));
  bad = good;
  bad["trials"][0]["break_mm"] = -3;
  EXPECT_THAT(parse(bad), FailsWith(ErrorCode::kBadValue, HasSubstr("trials[0].break_mm")));
  bad = good;
  bad["trials"][0]["break_mm"] = nullptr;
  EXPECT_THAT(parse(bad), FailsWith(ErrorCode::kBadValue, HasSubstr("trials[0].break_mm")));
  bad = good;
  bad["trials"][0]["censored"] = "belov";
  EXPECT_THAT(parse(bad), FailsWith(ErrorCode::kBadValue, HasSubstr("trials[0].censored")));
  bad = good;
  bad["trials"][0]["break_sd_mm"] = nullptr;
  EXPECT_THAT(parse(bad), FailsWith(ErrorCode::kBadValue, HasSubstr("break_sd_mm")));
  bad = good;
  bad["trials"] = 5;
  EXPECT_THAT(parse(bad), FailsWith(ErrorCode::kBadValue, HasSubstr("trials")));
  bad = good;
  bad["trials"][0] = 5;
  EXPECT_THAT(parse(bad), FailsWith(ErrorCode::kBadValue, HasSubstr("trials[0]")));
  bad = good;
  bad["schema"] = "nearpoint/session/9";
  EXPECT_THAT(parse(bad), FailsWith(ErrorCode::kBadValue, HasSubstr("version 1")));
  bad = good;
  bad.erase("shared_calibration");  // a file of another program need not have it
  EXPECT_THAT(parse(bad), IsOk());
}

}  // namespace
}  // namespace nearpoint
