#include "app/measure/lens_doubt.h"

#include <gmock/gmock.h>

#include <cmath>

#include "app/measure/objective_break.h"
#include "tests/support/vergence_patient.h"

namespace nearpoint {
namespace {

// Says "double" at the nearest point though both eyes stay on the target.
Trial ReportAtNearest(const std::vector<DistanceSample>& samples) {
  Trial trial;
  trial.number = 1;
  trial.start = samples.front().time;
  trial.end = samples.back().time;
  const DistanceSample* nearest = &samples.front();
  for (const DistanceSample& s : samples) {
    if (s.distance && (!nearest->distance || s.distance->value < nearest->distance->value))
      nearest = &s;
  }
  EventDistance at;
  at.time = nearest->time;
  at.value = {nearest->distance->value, Length::Millimeters(1)};
  trial.break_point = at;
  return trial;
}

std::vector<DistanceSample> Steady() {
  testing::VergencePatient patient;
  patient.keyboard_glances = patient.gaps = patient.head_turns = 0;
  patient.wild_fraction = 0;
  return testing::SimulateVergence(patient, 3).samples;
}

TEST(LensDoubt, LeavesAloneWhatWasSeenWithoutGlasses) {
  const auto samples = Steady();
  const Trial trial = ReportAtNearest(samples);
  TrialAgreement found = CompareReport(trial, AnalyseVergence(samples));
  ASSERT_EQ(found.agreement, Agreement::kReportWithoutDrift);
  EXPECT_EQ(WithinLensPower(trial, samples, found).agreement, Agreement::kReportWithoutDrift);
  found.agreement = Agreement::kBothBroke;
  EXPECT_EQ(WithinLensPower(trial, samples, found).agreement, Agreement::kBothBroke);
}

TEST(LensDoubt, StandsWhereThePowerMattersLittle) {
  auto samples = Steady();
  for (DistanceSample& s : samples) s.lens_shift = Angle::Degrees(0.1);
  const Trial trial = ReportAtNearest(samples);
  const TrialAgreement found = CompareReport(trial, AnalyseVergence(samples));
  ASSERT_EQ(found.agreement, Agreement::kReportWithoutDrift);
  EXPECT_EQ(WithinLensPower(trial, samples, found).agreement, Agreement::kReportWithoutDrift);
}

// A power that within its deviation bends the near part as a drift does leaves it open.
TEST(LensDoubt, IsNotSaidWhereAnotherPowerWouldUnsayIt) {
  auto samples = Steady();
  for (DistanceSample& s : samples) {
    const double mm = s.distance ? s.distance->value.mm() : 400;
    s.lens_shift = Angle::Degrees(5 / (1 + std::exp((mm - 70) / 2)));
  }
  const Trial trial = ReportAtNearest(samples);
  const TrialAgreement found = CompareReport(trial, AnalyseVergence(samples));
  ASSERT_EQ(found.agreement, Agreement::kReportWithoutDrift);
  const TrialAgreement said = WithinLensPower(trial, samples, found);
  EXPECT_EQ(said.agreement, Agreement::kCannotTell);
  EXPECT_THAT(said.sentence, ::testing::HasSubstr("strength of the glasses"));
}

TEST(LensDoubt, MovesBothEyesByHalfEach) {
  auto samples = Steady();
  for (DistanceSample& s : samples) s.lens_shift = Angle::Degrees(2);
  const auto moved = WithLensPower(samples, -1.5);
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (!samples[i].vergence || !samples[i].left_eye) continue;
    EXPECT_NEAR((*moved[i].vergence - *samples[i].vergence).deg(), -3, 1e-9);
    EXPECT_NEAR(
        (moved[i].left_eye->rotation->horizontal - samples[i].left_eye->rotation->horizontal).deg(),
        -1.5, 1e-9);
  }
}

}  // namespace
}  // namespace nearpoint
