#include "app/sound/tone.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <vector>

namespace nearpoint {
namespace {

std::vector<std::int16_t> Seconds(ToneMaker& maker, double seconds) {
  std::vector<std::int16_t> samples(static_cast<std::size_t>(seconds * kSampleRate));
  maker.Fill(samples);
  return samples;
}

// Upward crossings of zero a second.
double Frequency(const std::vector<std::int16_t>& samples) {
  int crossings = 0;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    if (samples[i - 1] < 0 && samples[i] >= 0) ++crossings;
  }
  return crossings * static_cast<double>(kSampleRate) / static_cast<double>(samples.size());
}

double LargestStep(const std::vector<std::int16_t>& samples) {
  int largest = 0;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    largest = std::max(largest, std::abs(samples[i] - samples[i - 1]));
  }
  return largest;
}

int Loudest(const std::vector<std::int16_t>& samples) {
  int loudest = 0;
  for (const std::int16_t sample : samples) loudest = std::max(loudest, std::abs(sample));
  return loudest;
}

// Computed: one octave from 220 Hz (far) to 440 Hz (near).
TEST(ToneTest, RisesByAnOctaveFromFarToNear) {
  const std::pair<double, double> expected[] = {{0, 220}, {0.5, 311.13}, {1, 440}, {3, 440}};
  for (const auto& [height, hz] : expected) {
    ToneMaker maker;
    maker.SetPace(PaceTone::kGood, height);
    Seconds(maker, 0.5);  // glides there
    EXPECT_NEAR(Frequency(Seconds(maker, 2)), hz, 1) << height;
  }
}

TEST(ToneTest, IsSilentUntilAskedAndAfterwards) {
  ToneMaker maker;
  EXPECT_TRUE(maker.silent());
  EXPECT_EQ(Loudest(Seconds(maker, 0.5)), 0);
  maker.SetPace(PaceTone::kGood, 0.5);
  EXPECT_GT(Loudest(Seconds(maker, 0.5)), 2000);
  maker.SetPace(PaceTone::kSilent, 0);
  Seconds(maker, 0.5);
  EXPECT_TRUE(maker.silent());
  EXPECT_LE(Loudest(Seconds(maker, 0.2)), 1);
}

// A step between two samples is at most what the highest frequency at full loudness has, computed:
// amplitude times 2 pi f / rate, of the tone with its octave and of the short sound together.
TEST(ToneTest, NeverClicks) {
  ToneMaker maker;
  const double tone = 0.16 * 32767 * 2 * 3.14159 * (0.85 * 440 + 0.15 * 880) / kSampleRate;
  const double heard = 0.3 * 32767 * 2 * 3.14159 * 880 / kSampleRate * 1.1;
  const double limit = tone + heard + 3;
  for (const PaceTone pace : {PaceTone::kGood, PaceTone::kTooFast, PaceTone::kTooSlow,
                              PaceTone::kSilent, PaceTone::kGood}) {
    maker.SetPace(pace, 0.9);
    maker.PlayHeard(true);
    EXPECT_LE(LargestStep(Seconds(maker, 1)), limit);
    maker.SetPace(pace, 0.1);
    maker.PlayHeard(false);
    EXPECT_LE(LargestStep(Seconds(maker, 1)), limit);
  }
}

// Too fast trembles: its loudness goes up and down. Too slow pauses.
TEST(ToneTest, SaysFasterAndSlowerByItsShape) {
  const auto softest_and_loudest = [](PaceTone pace) {
    ToneMaker maker;
    maker.SetPace(pace, 0.5);
    Seconds(maker, 0.5);
    int softest = 40000;
    int loudest = 0;
    for (int i = 0; i < 40; ++i) {
      const int loud = Loudest(Seconds(maker, 0.025));
      softest = std::min(softest, loud);
      loudest = std::max(loudest, loud);
    }
    return std::pair(softest, loudest);
  };
  const auto good = softest_and_loudest(PaceTone::kGood);
  const auto fast = softest_and_loudest(PaceTone::kTooFast);
  const auto slow = softest_and_loudest(PaceTone::kTooSlow);
  EXPECT_GT(good.first, 0.9 * good.second);
  EXPECT_LT(fast.first, 0.6 * fast.second);
  EXPECT_LT(slow.first, 0.05 * slow.second);
}

TEST(ToneTest, AReportIsHeardForAMoment) {
  ToneMaker maker;
  maker.PlayHeard(true);
  EXPECT_FALSE(maker.silent());
  EXPECT_GT(Loudest(Seconds(maker, 0.25)), 5000);
  EXPECT_TRUE(maker.silent());
}

}  // namespace
}  // namespace nearpoint
