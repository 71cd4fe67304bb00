#include "app/records/trial_eyes_json.h"

#include <gmock/gmock.h>

#include "app/records/trial_json.h"

namespace nearpoint {
namespace {

TrialEyes Example() {
  TrialEyes eyes;
  ObjectiveResult& seen = eyes.objective;
  ObjectiveEvent event;
  event.time = Time(12'345'678'901);
  event.time_sd = Time(83'000'001);
  event.distance = UncertainLength{Length::Millimeters(81.123456789), Length::Millimeters(1.0 / 3)};
  event.size = Angle::Degrees(7.1);
  event.size_sd = Angle::Degrees(0.31);
  seen.break_point = event;
  event.time += Time(2'000'000'000);
  event.distance.reset();
  seen.recovery = event;
  seen.eye = DriftingEye::kRight;
  seen.eye_probability = 0.97;
  seen.log_evidence = -3.25;
  seen.probability = 0.037;
  seen.smallest_visible = Angle::Degrees(4.2);
  seen.frames = 400;
  seen.frames_used = 350;
  seen.notes = {"The right eye turned outward.", "Said \"so\"."};
  seen.fixation.sentence = "The eyes turned inward in step with the target.";
  seen.personal.learned = true;
  seen.personal.vergence.offset = Angle::Degrees(2.5);
  seen.personal.vergence.gain = 1.04;
  seen.personal.vergence.covariance << 0.5, -0.01, -0.01, 0.002;
  eyes.agreement.trial = 2;
  eyes.agreement.agreement = Agreement::kApart;
  eyes.agreement.break_lag = Time(-400'000'003);
  eyes.agreement.sentence = "The report came before the eye moved.";
  return eyes;
}

std::string SessionOf(const TrialEyes& eyes) {
  Session session;
  Trial trial;
  trial.number = 2;
  session.trials = {trial};
  session.eyes = {eyes};
  return SerializeSession(session);
}

TEST(TrialEyesJsonTest, ReadsBackAsItWas) {
  TrialEyes set_aside;
  set_aside.objective.set_aside = SetAside::kNotLooking;
  set_aside.objective.personal.why_not = "Too few frames.";
  for (const TrialEyes& eyes : {Example(), TrialEyes(), set_aside}) {
    const std::string text = TrialEyesToText(eyes);
    const auto back = TrialEyesFromText(text, "trial");
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(TrialEyesToText(*back), text);
    // The file of the session cannot tell the two apart.
    EXPECT_EQ(SessionOf(*back), SessionOf(eyes));
    for (const double degrees : {3.0, 5.0}) {
      EXPECT_EQ(back->objective.RulesOut(Angle::Degrees(degrees)),
                eyes.objective.RulesOut(Angle::Degrees(degrees)));
    }
  }
  const TrialEyes back = TrialEyesFromText(TrialEyesToText(Example()), "trial").value();
  EXPECT_EQ(back.objective.break_point->time, Example().objective.break_point->time);
  EXPECT_EQ(back.objective.break_point->distance->value.mm(), 81.123456789);
  EXPECT_FALSE(back.objective.recovery->distance);
}

TEST(TrialEyesJsonTest, RefusesWhatIsNone) {
  EXPECT_FALSE(TrialEyesFromText("", "trial"));
  EXPECT_FALSE(TrialEyesFromText("[]", "trial"));
  EXPECT_FALSE(TrialEyesFromText("{}", "trial"));
  std::string text = TrialEyesToText(Example());
  text.replace(text.find("apart"), 5, "alone");
  const auto wrong = TrialEyesFromText(text, "trial 2");
  ASSERT_FALSE(wrong);
  EXPECT_THAT(wrong.error().message, testing::HasSubstr("agreement"));
}

}  // namespace
}  // namespace nearpoint
