#include "app/measure/vergence_trace.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <vector>

#include "tests/support/vergence_patient.h"

namespace nearpoint {
namespace {

using testing::SimulateVergence;
using testing::VergencePatient;

VergencePatient Still() {
  VergencePatient p;
  p.blinks = p.saccades = p.keyboard_glances = p.head_turns = p.gaps = 0;
  p.wild_fraction = 0;
  return p;
}

TEST(VergenceTrace, KeepsAllFramesOfAStillPatient) {
  const auto trial = SimulateVergence(Still(), 1);
  const VergenceTrace trace = CleanTrace(trial.samples);
  EXPECT_EQ(trace.near_blink + trace.looked_away + trace.head_turned, 0);
  EXPECT_GT(trace.frames.size(), 0.99 * static_cast<double>(trial.samples.size()));
  const auto& s = trial.samples[100];
  const auto& f =
      *std::ranges::find(trace.frames, ToSeconds(s.time - trace.origin), &VergenceFrame::time_s);
  EXPECT_DOUBLE_EQ(f.vergence_deg, s.vergence->deg());
  EXPECT_DOUBLE_EQ(f.left_deg, s.left_eye->rotation->horizontal.deg());
  EXPECT_DOUBLE_EQ(f.demand_deg, s.demand->deg());
  EXPECT_DOUBLE_EQ(f.distance_mm, s.distance->value.mm());
  EXPECT_EQ(trace.ToTime(0), trial.samples.front().time);
}

TEST(VergenceTrace, LeavesOutTheFramesBesideABlink) {
  VergencePatient p = Still();
  p.blinks = 4;
  const auto trial = SimulateVergence(p, 2);
  const VergenceTrace trace = CleanTrace(trial.samples);
  EXPECT_GT(trace.near_blink, 0);
  for (const auto& s : trial.samples) {
    if (s.why != LostReason::kEyesClosed) continue;
    const double closed = ToSeconds(s.time - trace.origin);
    for (const auto& f : trace.frames) EXPECT_GT(std::abs(f.time_s - closed), 0.08);
  }
}

TEST(VergenceTrace, LeavesOutALookAtTheKeyboard) {
  VergencePatient p = Still();
  p.keyboard_glances = 2;
  const VergenceTrace trace = CleanTrace(SimulateVergence(p, 3).samples);
  EXPECT_GT(trace.looked_away, 20);
  for (const auto& f : trace.frames) EXPECT_GT(f.vertical_deg, -7) << f.time_s;
}

TEST(VergenceTrace, KeepsADriftOfOneEye) {
  VergencePatient p = Still();
  p.break_mm = 90;
  p.drift_deg = 12;
  const auto trial = SimulateVergence(p, 4);
  const VergenceTrace trace = CleanTrace(trial.samples);
  EXPECT_EQ(trace.looked_away, 0);
  EXPECT_GT(trace.frames.size(), 0.99 * static_cast<double>(trial.samples.size()));
}

TEST(VergenceTrace, LeavesOutASingleWildFrameAndATurnedHead) {
  auto samples = SimulateVergence(Still(), 5).samples;
  const VergenceTrace before = CleanTrace(samples);
  samples[300].vergence = *samples[300].vergence + Angle::Degrees(6);
  samples[400].head->yaw = Angle::Degrees(40);
  const VergenceTrace after = CleanTrace(samples);
  EXPECT_EQ(after.wild, before.wild + 1);
  EXPECT_EQ(after.head_turned, 1);
}

TEST(VergenceTrace, FramesWithoutBothEyesOrWithBadNumbersAreNotTaken) {
  auto samples = SimulateVergence(Still(), 6).samples;
  samples.resize(40);
  for (auto& s : samples) s.left_eye.reset();
  EXPECT_TRUE(CleanTrace(samples).frames.empty());

  samples = SimulateVergence(Still(), 6).samples;
  samples.resize(40);
  for (auto& s : samples) {
    s.vergence = Angle::Degrees(std::numeric_limits<double>::quiet_NaN());
  }
  EXPECT_TRUE(CleanTrace(samples).frames.empty());
  EXPECT_TRUE(CleanTrace({}).frames.empty());
}

TEST(VergenceTrace, TwoFramesOfOneMomentCountOnce) {
  auto samples = SimulateVergence(Still(), 7).samples;
  samples.resize(100);
  samples[50].time = samples[49].time;
  const VergenceTrace trace = CleanTrace(samples);
  for (std::size_t i = 1; i < trace.frames.size(); ++i) {
    EXPECT_GT(trace.frames[i].time_s, trace.frames[i - 1].time_s);
  }
}

}  // namespace
}  // namespace nearpoint
