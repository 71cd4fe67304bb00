#include "vision/simulate/performance.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <cmath>
#include <limits>

#include "vision/simulate/options_check.h"

namespace nearpoint::simulate {
namespace {

PatientOptions Quiet() {
  PatientOptions options;
  options.optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  options.behaviour.sway = 0;
  options.behaviour.blinks_per_minute = 0;
  return options;
}

double DistanceAt(const Performance& p, Time t) { return p.At(t).distance_mm; }

// 2 atan(p / 2(x + k)) for p 64, x 50 from the corneal apex, k 13.5: 53.49 degrees (computed).
TEST(SimulatePerformance, VergenceOfSymmetricGaze) {
  PatientOptions options = Quiet();
  options.appearance.distance_pd = Length::Millimeters(64);
  options.target_mm = {0, 0, 0};
  const PatientState state = Performance::Posed(options, Length::Millimeters(50), {}, {}, {});
  EXPECT_NEAR(state.vergence_rad, 2 * std::atan(32 / 63.5), 1e-12);
  EXPECT_NEAR(Angle::Radians(state.vergence_rad).deg(), 53.49, 0.005);
  EXPECT_NEAR((state.eye_mid_mm - options.target_mm).norm(), 50, 1e-9);
}

TEST(SimulatePerformance, DriftTurnsOneEyeOutward) {
  const PatientOptions options = Quiet();
  const Length near = Length::Millimeters(80);
  const PatientState straight = Performance::Posed(options, near, {}, {}, {});
  const PatientState left = Performance::Posed(options, near, {}, {}, {}, Angle::Degrees(8));
  const PatientState right = Performance::Posed(options, near, {}, {}, {}, {}, Angle::Degrees(8));
  for (const PatientState& drifted : {left, right}) {
    EXPECT_NEAR(Angle::Radians(straight.vergence_rad - drifted.vergence_rad).deg(), 8, 1e-9);
  }
  EXPECT_GT(left.gaze[kLeft].x(),
            straight.gaze[kLeft].x());  // the patient's left is right in the image
  EXPECT_LT(right.gaze[kRight].x(), straight.gaze[kRight].x());
}

TEST(SimulatePerformance, CorneasLieInFrontOfTheCentresOfRotation) {
  PatientOptions options = Quiet();
  const PatientState state = Performance::Posed(
      options, Length::Millimeters(200), Angle::Degrees(9), Angle::Degrees(-5), Angle::Degrees(4));
  const Eigen::Vector3d forward = state.camera_from_head.col(2);
  const Eigen::Vector3d mid =
      (state.centre_mm[kLeft] + state.centre_mm[kRight]) / 2 + 13.5 * forward;
  EXPECT_NEAR((mid - state.eye_mid_mm).norm(), 0, 1e-9);
  EXPECT_NEAR((state.centre_mm[kLeft] - state.centre_mm[kRight]).norm(), 62, 1e-9);
  EXPECT_GT(forward.x(), 0);  // yaw to the patient's left
  EXPECT_GT(forward.y(), 0);  // pitch down
  EXPECT_NEAR(state.camera_from_head.determinant(), 1, 1e-12);
}

TEST(SimulatePerformance, SeedDecidesEverything) {
  PatientOptions options;
  options.optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  const Performance a(options);
  const Performance b(options);
  options.seed = 2;
  const Performance c(options);
  ASSERT_EQ(a.script().reports.size(), b.script().reports.size());
  for (std::size_t i = 0; i < a.script().reports.size(); ++i) {
    EXPECT_EQ(a.script().reports[i].time, b.script().reports[i].time);
  }
  const Time when = FromMilliseconds(7654);
  EXPECT_EQ(a.At(when).eye_mid_mm, b.At(when).eye_mid_mm);
  EXPECT_NE(a.At(when).eye_mid_mm, c.At(when).eye_mid_mm);
  EXPECT_NE(a.script().trials[0].break_distance, c.script().trials[0].break_distance);
}

TEST(SimulatePerformance, BreaksReportsLateAndRecovers) {
  PatientOptions options = Quiet();
  options.behaviour.between_trial_sd = {};
  options.behaviour.lag_sd = {};
  options.behaviour.recession_per_trial = Length::Millimeters(3);
  const Performance p(options);
  const Script& script = p.script();
  ASSERT_EQ(script.trials.size(), 5U);
  ASSERT_EQ(script.reports.size(), 20U);
  EXPECT_NEAR(script.true_break.mm(), 86, 1e-9);  // 80, 83, 86, 89, 92
  EXPECT_NEAR(script.true_recovery.mm(), 116, 1e-9);
  for (std::size_t k = 0; k < 5; ++k) {
    const TrialTruth& trial = script.trials[k];
    ASSERT_TRUE(trial.broke);
    EXPECT_NEAR(trial.break_distance.mm(), 80 + 3.0 * static_cast<double>(k), 1e-9);
    EXPECT_NEAR(DistanceAt(p, trial.break_time), trial.break_distance.mm(), 1e-3);
    EXPECT_NEAR(DistanceAt(p, trial.recovery_time), trial.recovery_distance.mm(), 1e-3);
    const Report* report = &script.reports[4 * k];
    EXPECT_EQ(report[0].kind, ReportKind::kTrialStart);
    EXPECT_EQ(report[1].kind, ReportKind::kDouble);
    EXPECT_EQ(report[2].kind, ReportKind::kSingle);
    EXPECT_EQ(report[3].kind, ReportKind::kTrialEnd);
    EXPECT_NEAR(DistanceAt(p, report[0].time), 400, 0.5);
    EXPECT_NEAR(DistanceAt(p, report[3].time), 400, 1.5);
    EXPECT_EQ(report[1].time - trial.break_time, options.behaviour.lag);
    EXPECT_EQ(report[2].time - trial.recovery_time, options.behaviour.lag);

    // 15 mm/s toward the target just before the break, and still so when the button is pressed.
    const Time moment = FromMilliseconds(100);
    for (const Time t : {trial.break_time, report[1].time}) {
      EXPECT_NEAR((DistanceAt(p, t - moment) - DistanceAt(p, t)) / 0.1, 15, 0.05);
    }
    // The eye is straight before, has drifted after 0.4 s, and is straight 0.3 s after the
    // recovery.
    EXPECT_EQ(p.At(trial.break_time - FromMilliseconds(5)).drift_rad[kLeft], 0);
    EXPECT_NEAR(p.At(trial.break_time + FromMilliseconds(410)).drift_rad[kLeft],
                options.behaviour.drift.rad(), 1e-6);
    EXPECT_NEAR(p.At(trial.recovery_time - FromMilliseconds(5)).drift_rad[kLeft],
                options.behaviour.drift.rad(), 1e-6);
    EXPECT_EQ(p.At(trial.recovery_time + FromMilliseconds(310)).drift_rad[kLeft], 0);
    EXPECT_EQ(p.At(trial.recovery_time).drift_rad[kRight], 0);
  }
}

TEST(SimulatePerformance, LeansOnForAWhileAfterTheBreak) {
  PatientOptions options = Quiet();
  const Performance p(options);
  for (const TrialTruth& trial : p.script().trials) {
    double nearest = 1e9;
    Time when{};
    for (Time t = trial.break_time; t < trial.recovery_time; t += FromMilliseconds(5)) {
      if (DistanceAt(p, t) < nearest) {
        nearest = DistanceAt(p, t);
        when = t;
      }
    }
    // The report and 0.3 to 0.5 s more, then up to 0.3 s to turn round.
    const double after_s = ToSeconds(when - trial.break_time);
    EXPECT_GT(after_s, 0.38);
    EXPECT_LT(after_s, ToSeconds(options.behaviour.lag + 4 * options.behaviour.lag_sd) + 0.5 + 0.3);
  }
}

TEST(SimulatePerformance, BreaksSpreadAsAsked) {
  PatientOptions options = Quiet();
  options.behaviour.trials = 100;
  options.behaviour.approach = options.behaviour.withdrawal = Speed::MillimetersPerSecond(200);
  options.behaviour.between_trial_sd = Length::Millimeters(4);
  const Script script = MakeScript(options);
  double sum = 0;
  double squares = 0;
  for (const TrialTruth& trial : script.trials) {
    sum += trial.break_distance.mm();
    squares += trial.break_distance.mm() * trial.break_distance.mm();
  }
  const double mean = sum / 100;
  EXPECT_NEAR(mean, 80, 4 * 0.4);  // four standard errors
  EXPECT_NEAR(std::sqrt(squares / 100 - mean * mean), 4, 4 * 0.29);
}

TEST(SimulatePerformance, FusionHolds) {
  PatientOptions options = Quiet();
  options.behaviour.fusion_holds = true;
  options.behaviour.trials = 2;
  const Performance p(options);
  ASSERT_EQ(p.script().reports.size(), 6U);
  for (std::size_t k = 0; k < 2; ++k) {
    EXPECT_FALSE(p.script().trials[k].broke);
    EXPECT_EQ(p.script().reports[3 * k + 1].kind, ReportKind::kNoDouble);
  }
  double nearest = 1e9;
  for (Time t{}; t < p.script().reports.back().time; t += FromMilliseconds(10)) {
    nearest = std::min(nearest, DistanceAt(p, t));
    EXPECT_EQ(p.At(t).drift_rad[kLeft], 0);
  }
  EXPECT_LT(nearest, 50.1);
  EXPECT_GT(nearest, 45);
}

TEST(SimulatePerformance, SilentPatientDriftsAndSaysNothing) {
  PatientOptions options = Quiet();
  options.behaviour.reports = false;
  options.behaviour.trials = 1;
  options.behaviour.left_eye_drifts = false;
  const Performance p(options);
  ASSERT_EQ(p.script().reports.size(), 2U);
  ASSERT_TRUE(p.script().trials[0].broke);
  EXPECT_GT(p.At(p.script().trials[0].break_time + FromMilliseconds(500)).drift_rad[kRight], 0.1);
}

TEST(SimulatePerformance, BlinksShutTheLidsAndOpenThem) {
  PatientOptions options = Quiet();
  options.behaviour.blinks_per_minute = 15;
  const Performance p(options);
  const double length_s =
      static_cast<double>(p.script().frame_count) / options.behaviour.frames_per_second;
  int blinks = 0;
  bool shut = false;
  Time opening_began{};
  for (Time t{}; ToSeconds(t) < length_s; t += FromMilliseconds(2)) {
    const double closed = p.At(t).lids_closed;
    if (closed == 0) opening_began = t;
    if (closed >= 0.999 && !shut) {
      ++blinks;
      EXPECT_LT(ToMilliseconds(t - opening_began), 150);
    }
    shut = closed >= 0.999;
  }
  const double expected = 15 * length_s / 60;
  EXPECT_NEAR(blinks, expected, 4 * std::sqrt(expected));
}

TEST(SimulatePerformance, JitterIsATenthOfADegree) {
  PatientOptions options = Quiet();
  const Performance p(options);
  double squares = 0;
  int count = 0;
  for (Time t{}; ToSeconds(t) < 60; t += FromMilliseconds(20)) {
    const PatientState state = p.At(t);
    if (state.drift_rad[kLeft] != 0) continue;
    const Eigen::Vector3d aim = (options.target_mm - state.centre_mm[kLeft]).normalized();
    squares += std::pow(state.gaze[kLeft].cross(aim).norm(), 2);
    ++count;
  }
  // Horizontal and vertical together.
  EXPECT_NEAR(Angle::Radians(std::sqrt(squares / count)).deg(), 0.1 * std::sqrt(2.0), 0.02);
}

TEST(SimulatePerformance, BadOptionsAreErrors) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const auto expect_bad = [](const PatientOptions& options, const char* name) {
    const auto made = MakePatient(options);
    ASSERT_FALSE(made.has_value()) << name;
    EXPECT_EQ(made.error().code, ErrorCode::kBadValue);
    EXPECT_NE(made.error().message.find(name), std::string::npos) << made.error().message;
    EXPECT_EQ(MakeScript(options).frame_count, 0);
  };
  PatientOptions bad = Quiet();
  bad.appearance.head_scale = -1;
  expect_bad(bad, "head_scale");
  bad = Quiet();
  bad.appearance.iris = Length::Millimeters(nan);
  expect_bad(bad, "iris");
  bad = Quiet();
  bad.optics.camera.width = -1280;
  expect_bad(bad, "width");
  bad = Quiet();
  bad.optics.camera.fx = nan;
  expect_bad(bad, "fx");
  bad = Quiet();
  bad.light.noise_sd = -0.1;
  expect_bad(bad, "noise_sd");
  bad = Quiet();
  bad.behaviour.trials = 0;
  expect_bad(bad, "trials");
  bad = Quiet();
  bad.behaviour.nearest = bad.behaviour.start;
  expect_bad(bad, "nearest");
  bad = Quiet();
  bad.appearance.distance_pd = Length::Millimeters(75);
  expect_bad(bad, "distance_pd");
  bad = Quiet();
  bad.target_mm.y() = nan;
  expect_bad(bad, "target_mm");
  EXPECT_TRUE(CheckOptions(Quiet()).has_value());
}

}  // namespace
}  // namespace nearpoint::simulate
