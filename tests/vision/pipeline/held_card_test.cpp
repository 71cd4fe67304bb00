// The held card and a simulated patient: zero touch, then distances from 40 to 4 cm.
#include <gmock/gmock.h>

#include <cmath>
#include <iostream>
#include <vector>

#include "calibration/face_touch.h"
#include "models/landmark_model.h"
#include "tests/support/result_matchers.h"
#include "vision/card/draw_pattern.h"
#include "vision/pipeline/held_card_tracker.h"
#include "vision/simulate/patient.h"

namespace nearpoint {
namespace {

using simulate::CardPlace;
using testing::HasSubstr;

simulate::PatientOptions Options() {
  simulate::PatientOptions o;
  o.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  o.behaviour.trials = 1;
  o.behaviour.start = Length::Millimeters(400);
  o.behaviour.nearest = Length::Millimeters(40);
  o.behaviour.break_mean = Length::Millimeters(70);
  o.behaviour.approach = Speed::MillimetersPerSecond(100);
  o.behaviour.withdrawal = Speed::MillimetersPerSecond(120);
  o.behaviour.frames_per_second = 10;
  o.behaviour.hold = std::chrono::seconds(1);
  o.seed = 12;
  simulate::CardProp card;
  card.place = CardPlace::kHeld;
  card.picture = DrawCardPattern(10);
  o.card = card;
  return o;
}

struct Seen {
  double truth_mm;
  Length before;  // true, of the target along the line of sight
  Eigen::Vector3d target_mm;
  DistanceSample sample;
};
std::vector<Seen> Track(const simulate::PatientOptions& options, HeldCardTracker& tracker,
                        int frames) {
  std::vector<Seen> seen;
  simulate::FrameTruth truth;
  auto patient = simulate::MakePatient(options, [&](const auto& t) { truth = t; });
  for (int i = 0; patient && i < frames; ++i) {
    const auto frame = (*patient)->Next();
    if (!frame || !*frame) break;
    const auto sample = tracker.Process(**frame);
    EXPECT_THAT(sample, IsOk());
    if (truth.card) {
      seen.push_back({truth.distance.mm(),
                      SampleTouch({}, truth.target_mm, truth.eye_mid_mm, {}).before,
                      tracker.target_mm().value_or(Eigen::Vector3d::Zero()), *sample});
    }
  }
  return seen;
}

TEST(HeldCard, AfterTheZeroTouchDistancesAreTrue) {
  const auto model = FindLandmarkModel();
  if (!model) GTEST_SKIP() << "no landmark model on this machine";
  const auto options = Options();
  Profile profile = simulate::TrueProfile(options);
  // A face scale that is wrong by 1.5 %: 7 mm at 50 cm.
  for (auto* length : {&profile.face.iris, &profile.face.distance_pd}) {
    (*length)->value = (*length)->value * 1.015;
  }
  profile.held_card = HeldCardSetup{};
  auto touching = options;
  touching.card->place = CardPlace::kTouch;
  touching.behaviour.hold = std::chrono::seconds(4);
  auto tracker = HeldCardTracker::Create(profile, *model);
  ASSERT_THAT(tracker, IsOk());
  std::vector<TouchSample> samples;
  double sum_mm = 0;
  int resting = 0;
  for (const Seen& s : Track(touching, *tracker, 50)) {
    if (s.truth_mm < 20) {  // in touch; the head sways under the card
      sum_mm += s.before.mm();
      ++resting;
    }
    if (!s.sample.distance) continue;
    samples.push_back(
        SampleTouch(s.sample.time, s.target_mm, *s.sample.eye_mid_mm, s.sample.distance->sd));
  }
  ASSERT_GT(resting, 10);
  const Length touch = Length::Millimeters(sum_mm / resting);
  const auto zero = ZeroFromTouch(samples, touch, Length());
  ASSERT_THAT(zero, IsOk());
  EXPECT_GT(zero->value.mm(), 3);
  // What is assumed of a nose that nobody measured holds for this one.
  EXPECT_NEAR(touch.mm(), kTouchDepth.value.mm(), kTouchDepth.sd.mm());

  profile.held_card->zero = *zero;
  auto again = HeldCardTracker::Create(profile, *model);
  ASSERT_THAT(again, IsOk());
  int known = 0;
  int all = 0;
  double squares = 0;
  for (const Seen& s : Track(options, *again, 1000)) {
    ++all;
    if (!s.sample.distance) continue;
    ++known;
    const double off = s.sample.distance->value.mm() - s.truth_mm;
    squares += off * off;
    EXPECT_NEAR(off, 0, 3) << "at " << s.truth_mm << " mm";
    EXPECT_TRUE(s.sample.distance_shared_sd.has_value());
  }
  std::cout << known << " of " << all << " frames, deviation " << std::sqrt(squares / known)
            << " mm\n";
  EXPECT_GT(known, 0.9 * all);
  EXPECT_LT(std::sqrt(squares / known), 2);
}

TEST(HeldCard, WithoutTheCardThereIsNoDistance) {
  const auto model = FindLandmarkModel();
  if (!model) GTEST_SKIP() << "no landmark model on this machine";
  const auto options = Options();
  Profile profile = simulate::TrueProfile(options);
  profile.held_card = HeldCardSetup{};
  auto tracker = HeldCardTracker::Create(profile, *model);
  ASSERT_THAT(tracker, IsOk());
  auto patient = simulate::MakePatient(options);  // the card comes after a second
  for (int i = 0; i < 3; ++i) {
    const auto frame = (*patient)->Next();
    const auto sample = tracker->Process(**frame);
    ASSERT_THAT(sample, IsOk());
    EXPECT_EQ(sample->mode, TrackMode::kLost);
    EXPECT_EQ(sample->why, LostReason::kNoCard);
    EXPECT_FALSE(sample->distance.has_value());
  }
}

TEST(HeldCard, AProfileForLeaningInIsAMismatch) {
  EXPECT_THAT(HeldCardTracker::Create(simulate::TrueProfile(Options()), "none"),
              FailsWith(ErrorCode::kMismatch, HasSubstr("held_card")));
}

}  // namespace
}  // namespace nearpoint
