#include "app/measure/drift_detector.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "app/measure/drift_shape.h"
#include "tests/support/vergence_patient.h"

namespace nearpoint {
namespace {

using testing::SimulateVergence;
using testing::VergencePatient;
using testing::VergenceTrial;

VergencePatient Quiet() {
  VergencePatient p;
  p.blinks = p.saccades = p.keyboard_glances = p.head_turns = p.gaps = 0;
  return p;
}

VergencePatient Breaking() {
  VergencePatient p = Quiet();
  p.break_mm = 90;
  p.recovery_mm = 115;
  p.drift_deg = 8;
  return p;
}

double TrueOnset(const VergenceTrial& trial, const VergenceTrace& trace) {
  return ToSeconds(*trial.truth.break_time - trace.origin);
}

TEST(DriftShape, RisesFromOnsetToTheEndOfTheRamp) {
  for (const RampForm form : {RampForm::kStraight, RampForm::kSmooth}) {
    const DriftShape shape{.onset_s = 2, .ramp_s = 0.4, .form = form};
    EXPECT_EQ(ShapeAt(shape, 1.9), 0);
    EXPECT_EQ(ShapeAt(shape, 2), 0);
    EXPECT_NEAR(ShapeAt(shape, 2.2), 0.5, 1e-12);
    EXPECT_EQ(ShapeAt(shape, 2.5), 1);
  }
  const std::vector<double> time_s = {1, 2, 2.1, 3};
  EXPECT_EQ(FirstTouched({.onset_s = 2, .ramp_s = 0.4}, time_s), 2);
  EXPECT_EQ(FirstTouched({.onset_s = 5, .ramp_s = 0.4}, time_s), 4);
}

TEST(DriftDetector, FindsADriftItsMomentSizeEyeAndReturn) {
  for (const bool left : {true, false}) {
    VergencePatient p = Breaking();
    p.left_eye_drifts = left;
    const auto trial = SimulateVergence(p, 11);
    const VergenceTrace trace = CleanTrace(trial.samples);
    const DriftFinding f = FindDrift(trace);
    ASSERT_TRUE(f.found);
    EXPECT_GT(f.log_evidence, 20);
    EXPECT_NEAR(f.drift.time_s, TrueOnset(trial, trace), 0.1);
    EXPECT_NEAR(f.drift.size.deg(), 8, 3 * f.drift.size_sd.deg());
    EXPECT_LT(f.drift.size_sd.deg(), 1);
    EXPECT_EQ(f.eye, left ? DriftingEye::kLeft : DriftingEye::kRight);
    ASSERT_TRUE(f.recovery);
    EXPECT_NEAR(f.recovery->time_s, ToSeconds(*trial.truth.recovery_time - trace.origin), 0.1);
  }
}

TEST(DriftDetector, AnEyeThatStaysOutHasNoRecovery) {
  const auto trial = SimulateVergence(Breaking(), 12);
  auto samples = trial.samples;
  std::erase_if(samples, [&](const DistanceSample& s) {
    return s.time > *trial.truth.break_time + FromMilliseconds(2500);
  });
  const VergenceTrace trace = CleanTrace(samples);
  const DriftFinding f = FindDrift(trace);
  ASSERT_TRUE(f.found);
  EXPECT_FALSE(f.recovery);
  EXPECT_NEAR(f.drift.time_s, TrueOnset(trial, trace), 0.1);
}

TEST(DriftDetector, OnlyOutwardTurnsCount) {
  VergencePatient p = Breaking();
  p.drift_deg = -8;
  EXPECT_FALSE(FindDrift(CleanTrace(SimulateVergence(p, 13).samples)).found);
}

TEST(DriftDetector, AShortFlickDoesNotCount) {
  const auto trial = SimulateVergence(Quiet(), 14);
  auto samples = trial.samples;
  const Time at = samples[600].time;
  for (DistanceSample& s : samples) {
    if (s.time < at || s.time > at + FromMilliseconds(300) || !s.vergence) continue;
    s.vergence = *s.vergence - Angle::Degrees(6);
    s.left_eye->rotation->horizontal = s.left_eye->rotation->horizontal - Angle::Degrees(6);
  }
  EXPECT_FALSE(FindDrift(CleanTrace(samples)).found);
}

// Each with 40 trials without a drift and much more of one disturbance than a trial has.
TEST(DriftDetector, DisturbancesAreNotBreaks) {
  struct Case {
    const char* name;
    void (*change)(VergencePatient&);
  };
  const Case cases[] = {
      {"blinks", [](VergencePatient& p) { p.blinks = 12; }},
      {"saccades", [](VergencePatient& p) { p.saccades = 12; }},
      {"looks at the keyboard", [](VergencePatient& p) { p.keyboard_glances = 4; }},
      {"head turns", [](VergencePatient& p) { p.head_turns = 4; }},
      {"gaps", [](VergencePatient& p) { p.gaps = 8; }},
      {"yaw errors", [](VergencePatient& p) { p.yaw_error_deg = 5; }},
      {"sway", [](VergencePatient& p) { p.sway_deg = 8; }},
  };
  for (const Case& c : cases) {
    int breaks = 0;
    for (std::uint64_t seed = 0; seed < 40; ++seed) {
      VergencePatient p = Quiet();
      c.change(p);
      if (FindDrift(CleanTrace(SimulateVergence(p, 700 + seed).samples)).found) ++breaks;
    }
    EXPECT_LE(breaks, 1) << c.name;
  }
}

TEST(DriftDetector, AGapOverTheOnsetMakesTheMomentUnsureAndSaysSo) {
  const auto trial = SimulateVergence(Breaking(), 15);
  const VergenceTrace full = CleanTrace(trial.samples);
  const double sure = FindDrift(full).drift.time_sd_s;
  auto samples = trial.samples;
  std::erase_if(samples, [&](const DistanceSample& s) {
    return s.time > *trial.truth.break_time - FromMilliseconds(700) &&
           s.time < *trial.truth.break_time + FromMilliseconds(800);
  });
  const VergenceTrace trace = CleanTrace(samples);
  const DriftFinding f = FindDrift(trace);
  ASSERT_TRUE(f.found);
  EXPECT_LT(sure, 0.08);
  EXPECT_GT(f.drift.time_sd_s, 0.2);
  EXPECT_NEAR(f.drift.time_s, TrueOnset(trial, trace), 3 * f.drift.time_sd_s);
}

TEST(DriftDetector, MoreNoiseHidesSmallerDriftsAndTheResultSaysSo) {
  VergencePatient p = Quiet();
  const auto quiet = FindDrift(CleanTrace(SimulateVergence(p, 16).samples));
  p.white_deg = 3;
  p.wander_deg = 3;
  const auto noisy = FindDrift(CleanTrace(SimulateVergence(p, 16).samples));
  ASSERT_TRUE(quiet.smallest_visible);
  EXPECT_LT(quiet.smallest_visible->deg(), 4.5);
  EXPECT_TRUE(!noisy.smallest_visible || *noisy.smallest_visible > *quiet.smallest_visible);
}

TEST(DriftDetector, ATurnWithinTheTrackersOwnDeviationIsNoDrift) {
  const auto trial = SimulateVergence(Breaking(), 18);
  const DriftFinding sure = FindDrift(CleanTrace(trial.samples));
  ASSERT_TRUE(sure.found);
  EXPECT_FALSE(sure.within_error);
  auto samples = trial.samples;
  // Where the eye is out, the tracker says how badly it sees it: half the turn and more.
  for (DistanceSample& s : samples) {
    if (s.vergence_sd && s.distance && s.distance->value < *trial.truth.recovery_distance)
      s.vergence_sd = 0.55 * sure.drift.size;
  }
  const DriftFinding unsure = FindDrift(CleanTrace(samples));
  EXPECT_FALSE(unsure.found);
  EXPECT_TRUE(unsure.within_error);
  ASSERT_TRUE(unsure.smallest_visible);
  EXPECT_GE(*unsure.smallest_visible, sure.drift.size);
}

TEST(DriftDetector, WhatHappensWhereNoFrameIsSeenIsNoDrift) {
  const auto trial = SimulateVergence(Breaking(), 19);
  VergenceTrace trace = CleanTrace(trial.samples);
  const DriftFinding seen = FindDrift(trace);
  ASSERT_TRUE(seen.found && seen.recovery);
  std::erase_if(trace.frames, [&](const VergenceFrame& f) {
    return f.time_s > seen.drift.time_s && f.time_s < seen.recovery->time_s + 0.7;
  });
  EXPECT_FALSE(FindDrift(trace).found);
}

// The first pictures after a gap are the tracker's worst: a few of them are no drift.
TEST(DriftDetector, AnEyeSeenOutForAMomentOnlyIsNoDrift) {
  const auto trial = SimulateVergence(Breaking(), 19);
  const VergenceTrace whole = CleanTrace(trial.samples);
  const DriftFinding seen = FindDrift(whole);
  ASSERT_TRUE(seen.found && seen.recovery);
  const auto seen_out_for = [&](double seconds) {
    VergenceTrace trace = whole;
    std::erase_if(trace.frames, [&](const VergenceFrame& f) {
      return f.time_s > seen.drift.time_s - 0.5 && f.time_s < seen.recovery->time_s - seconds;
    });
    return FindDrift(trace).found;
  };
  EXPECT_FALSE(seen_out_for(0.3));
  EXPECT_TRUE(seen_out_for(1.2));
}

TEST(DriftDetector, AnEyeIsNotNamedWhereTheTrackerCannotTellOneEyesTurn) {
  auto samples = SimulateVergence(Breaking(), 17).samples;
  for (DistanceSample& s : samples) {
    if (!s.vergence) continue;
    // What a tracker without a hold on the head's yaw does: it shares the vergence out.
    const Angle half = *s.vergence / 2;
    s.left_eye->rotation->horizontal = s.right_eye->rotation->horizontal = half;
    s.left_eye->rotation->horizontal_sd = s.right_eye->rotation->horizontal_sd = Angle::Degrees(6);
  }
  const DriftFinding f = FindDrift(CleanTrace(samples));
  EXPECT_TRUE(f.found);
  EXPECT_EQ(f.eye, DriftingEye::kUnclear);
}

TEST(DriftDetector, TooShortATraceIsNothing) {
  EXPECT_FALSE(FindDrift({}).found);
  auto samples = SimulateVergence(Quiet(), 18).samples;
  samples.resize(20);
  const DriftFinding f = FindDrift(CleanTrace(samples));
  EXPECT_FALSE(f.found);
  EXPECT_FALSE(f.smallest_visible);
}

}  // namespace
}  // namespace nearpoint
