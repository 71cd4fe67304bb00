#include "app/measure/vergence_model.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/vergence_patient.h"

namespace nearpoint {
namespace {

using testing::DrawPatient;
using testing::SimulateVergence;
using testing::VergencePatient;

constexpr double kWholeTrial = 1e9;

TEST(VergenceModel, RecoversOffsetAndGainWithoutNoise) {
  VergencePatient p;
  p.white_deg = p.place_offset_deg = p.wander_deg = p.yaw_error_deg = p.yaw_white_deg = 0;
  p.distance_rel_sd = p.wild_fraction = 0;
  p.blinks = p.saccades = p.keyboard_glances = p.head_turns = p.gaps = 0;
  p.offset_deg = 4;
  p.gain = 0.93;
  p.asymmetry_deg = 2;
  const auto personal = LearnVergence(CleanTrace(SimulateVergence(p, 1).samples), kWholeTrial);
  ASSERT_TRUE(personal.learned) << personal.why_not;
  EXPECT_NEAR(personal.vergence.gain, 0.93, 0.005);
  EXPECT_NEAR(personal.vergence.offset.deg(), 4, 0.1);
  EXPECT_NEAR(personal.left_eye.gain, 0.93, 0.01);
  EXPECT_NEAR(personal.right_eye.gain, 0.93, 0.01);
  EXPECT_NEAR(personal.vergence.Expected(Angle::Degrees(10)).deg(), 13.3, 0.05);
  // The left eye carries half the offset and half the asymmetry more than the right.
  EXPECT_NEAR(personal.left_eye.Expected(Angle::Degrees(7)).deg() -
                  personal.right_eye.Expected(Angle::Degrees(7)).deg(),
              2, 0.6);
}

TEST(VergenceModel, StatesDeviationsThatHold) {
  int gain_in_two = 0;
  int vergence_in_two = 0;
  constexpr int kTrials = 100;
  for (std::uint64_t seed = 500; seed < 500 + kTrials; ++seed) {
    const VergencePatient p = DrawPatient(seed, false);
    const auto personal = LearnVergence(CleanTrace(SimulateVergence(p, seed).samples), kWholeTrial);
    ASSERT_TRUE(personal.learned);
    const PersonalResponse& v = personal.vergence;
    if (std::abs(v.gain - p.gain) < 2 * v.gain_sd()) ++gain_in_two;
    const double demand = 15;
    const double sd = std::sqrt(v.covariance(0, 0) + 2 * demand * v.covariance(0, 1) +
                                demand * demand * v.covariance(1, 1));
    const double error = v.Expected(Angle::Degrees(demand)).deg() - p.offset_deg - p.gain * demand;
    if (std::abs(error) < 2 * sd) ++vergence_in_two;
  }
  EXPECT_GE(gain_in_two, 88);
  EXPECT_GE(vergence_in_two, 90);
}

TEST(VergenceModel, SaysWhenThereIsNothingToLearnFrom) {
  VergencePatient p;
  p.start_mm = 140;
  p.withdrawal_mm_s = 20;
  auto samples = SimulateVergence(p, 2).samples;
  std::erase_if(samples, [](const DistanceSample& s) {
    return s.distance && s.distance->value > Length::Millimeters(150);
  });
  const auto near = LearnVergence(CleanTrace(samples), kWholeTrial);
  EXPECT_FALSE(near.learned);
  EXPECT_NE(near.why_not.find("15 cm"), std::string::npos) << near.why_not;

  VergencePatient still;
  still.start_mm = 420;
  samples = SimulateVergence(still, 3).samples;
  std::erase_if(samples, [](const DistanceSample& s) {
    return !s.distance || s.distance->value < Length::Millimeters(385);
  });
  const auto no_range = LearnVergence(CleanTrace(samples), kWholeTrial);
  EXPECT_FALSE(no_range.learned);
  EXPECT_NE(no_range.why_not.find("degrees"), std::string::npos) << no_range.why_not;
}

TEST(VergenceModel, LearnsOnlyBeforeTheEvent) {
  const auto trace = CleanTrace(SimulateVergence(VergencePatient{}, 4).samples);
  const auto all = LearnVergence(trace, kWholeTrial);
  const auto half = LearnVergence(trace, 8);
  EXPECT_LT(half.frames, all.frames);
  EXPECT_GT(half.vergence.gain_sd(), all.vergence.gain_sd());
}

}  // namespace
}  // namespace nearpoint
