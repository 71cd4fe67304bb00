#include "app/measure/segment.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <random>
#include <vector>

namespace nearpoint {
namespace {

constexpr double kStart = 400;
constexpr double kSpeed = 15;

// A session drawn by hand: at rest for 1 s, in to `nearest` at `speed`, back out at the same speed.
struct Trace {
  double start = kStart, nearest = 70, speed = kSpeed, rest_s = 1, noise_sd = 0;
  unsigned seed = 1;

  [[nodiscard]] double TurnTime() const { return rest_s + (start - nearest) / speed; }
  [[nodiscard]] double EndTime() const { return TurnTime() + (start - nearest) / speed; }
  [[nodiscard]] double At(double t) const {
    if (t < rest_s) return start;
    if (t < TurnTime()) return start - speed * (t - rest_s);
    return std::min(start, nearest + speed * (t - TurnTime()));
  }
  // When the target passes this distance on the way in, and on the way out.
  [[nodiscard]] double In(double distance) const { return rest_s + (start - distance) / speed; }
  [[nodiscard]] double Out(double distance) const {
    return TurnTime() + (distance - nearest) / speed;
  }

  [[nodiscard]] std::vector<DistanceSample> Samples() const {
    std::mt19937_64 random(seed);
    std::normal_distribution<> noise;
    std::vector<DistanceSample> samples;
    for (int i = 0; i / 30.0 <= EndTime(); ++i) {
      DistanceSample s;
      s.frame = i;
      s.time = FromMilliseconds(i * 1000.0 / 30);
      s.mode = TrackMode::kFace;
      s.distance = UncertainLength{Length::Millimeters(At(i / 30.0) + noise_sd * noise(random)),
                                   Length::Millimeters(1)};
      samples.push_back(s);
    }
    return samples;
  }
};

Event At(double seconds, EventKind kind) { return {FromMilliseconds(1000 * seconds), kind}; }

void Lose(DistanceSample& sample) {
  sample.mode = TrackMode::kLost;
  sample.why = LostReason::kEyesClosed;
  sample.distance.reset();
}

constexpr double kLag = 0.32;
SegmentOptions WithLag() {
  SegmentOptions options;
  options.lag = FromMilliseconds(1000 * kLag);
  return options;
}

// Break at 80 mm in and recovery at 110 mm out, reported one lag later.
std::vector<Event> UsualEvents(const Trace& trace) {
  return {At(0, EventKind::kTrialStart), At(trace.In(80) + kLag, EventKind::kDouble),
          At(trace.Out(110) + kLag, EventKind::kSingle), At(trace.EndTime(), EventKind::kTrialEnd)};
}

std::vector<Trial> Segment(const std::vector<DistanceSample>& samples,
                           const std::vector<Event>& events,
                           const SegmentOptions& options = WithLag()) {
  const auto trials = SegmentTrials(samples, events, options);
  EXPECT_TRUE(trials) << trials.error().message;
  return trials.value_or(std::vector<Trial>{});
}

TEST(Segment, CorrectsForTheLagWithTheLocalSpeed) {
  const Trace trace;
  const auto trials = Segment(trace.Samples(), UsualEvents(trace));
  ASSERT_EQ(trials.size(), 1u);
  const Trial& trial = trials[0];
  EXPECT_FALSE(trial.set_aside);
  EXPECT_EQ(trial.number, 1);
  ASSERT_TRUE(trial.break_point && trial.recovery);
  EXPECT_NEAR(trial.break_point->value.value.mm(), 80, 1e-3);
  EXPECT_NEAR(trial.break_point->uncorrected.mm(), 80 - kSpeed * kLag, 1e-3);  // 4.8 mm too near
  EXPECT_NEAR(trial.break_point->speed.mm_per_s(), -kSpeed, 1e-3);
  EXPECT_NEAR(trial.recovery->value.value.mm(), 110, 1e-3);
  EXPECT_NEAR(trial.recovery->uncorrected.mm(), 110 + kSpeed * kLag, 1e-3);
  ASSERT_TRUE(trial.approach_speed && trial.start_distance && trial.nearest);
  EXPECT_NEAR(trial.approach_speed->mm_per_s(), kSpeed, 0.1);
  EXPECT_NEAR(trial.start_distance->mm(), kStart, 1e-9);
  EXPECT_DOUBLE_EQ(trial.valid_fraction, 1);
}

TEST(Segment, LagDeviationTimesSpeedEntersTheDeviation) {
  const Trace trace;
  SegmentOptions options = WithLag();
  options.lag_sd = FromMilliseconds(100);
  const auto trials = Segment(trace.Samples(), UsualEvents(trace), options);
  ASSERT_TRUE(trials.at(0).break_point);
  EXPECT_NEAR(trials[0].break_point->value.sd.mm(), 0.1 * kSpeed, 0.02);
}

TEST(Segment, DeviationIsOfTheTrialNotOfTheSharedScale) {
  // Samples that all say 4 mm but scatter by 0.5 mm: what they share is not the trial's.
  Trace trace;
  trace.noise_sd = 0.5;
  auto samples = trace.Samples();
  for (DistanceSample& s : samples) s.distance->sd = Length::Millimeters(4);
  const auto trials = Segment(samples, UsualEvents(trace));
  ASSERT_TRUE(trials.at(0).break_point);
  EXPECT_LT(trials[0].break_point->value.sd.mm(), 0.35);
  EXPECT_GT(trials[0].break_point->value.sd.mm(), 0.05);
}

TEST(Segment, StatedDeviationHoldsOverManyTraces) {
  double squares = 0, stated = 0;
  for (unsigned seed = 0; seed < 300; ++seed) {
    Trace trace;
    trace.noise_sd = 1;
    trace.seed = seed;
    const auto trials = Segment(trace.Samples(), UsualEvents(trace));
    ASSERT_TRUE(trials.at(0).break_point);
    squares += std::pow(trials[0].break_point->value.value.mm() - 80, 2);
    stated += std::pow(trials[0].break_point->value.sd.mm(), 2);
  }
  EXPECT_NEAR(std::sqrt(stated / squares), 1.05,
              0.17);  // 1/sqrt(600) and the allowance for autocorrelation
}

TEST(Segment, BlinksAndOutliersDoNotMoveTheBreak) {
  Trace trace;
  trace.noise_sd = 0.3;
  auto samples = trace.Samples();
  for (DistanceSample& s : samples) {
    const double from_break = ToSeconds(s.time) - trace.In(80);
    if (from_break > -0.20 && from_break < -0.05) Lose(s);  // a blink before it
    if (s.distance && s.frame % 7 == 0)
      s.distance->value = s.distance->value + Length::Millimeters(30);
  }
  const auto trials = Segment(samples, UsualEvents(trace));
  ASSERT_TRUE(trials.at(0).break_point);
  EXPECT_FALSE(trials[0].set_aside);
  EXPECT_NEAR(trials[0].break_point->value.value.mm(), 80, 0.5);
}

TEST(Segment, SeveralTrialsAndOneStillOpen) {
  const Trace trace;
  auto samples = trace.Samples();
  const Time shift = samples.back().time + FromMilliseconds(1000.0 / 30);
  for (DistanceSample s : trace.Samples()) {
    s.time += shift;
    samples.push_back(s);
  }
  auto events = UsualEvents(trace);
  for (Event e : UsualEvents(trace)) {
    e.time += shift;
    events.push_back(e);
  }
  events.pop_back();
  const auto trials = Segment(samples, events);
  ASSERT_EQ(trials.size(), 2u);
  EXPECT_EQ(trials[1].number, 2);
  EXPECT_EQ(trials[1].end, samples.back().time);
  ASSERT_TRUE(trials[1].break_point && trials[1].recovery);
  EXPECT_NEAR(trials[1].break_point->value.value.mm(), 80, 0.01);
}

TEST(Segment, WaveringTakesTheFirstDoubleAndTheLastSingle) {
  const Trace trace;
  auto events = UsualEvents(trace);
  events.insert(events.begin() + 2,
                {At(trace.In(74), EventKind::kSingle), At(trace.In(72), EventKind::kDouble)});
  const auto trials = Segment(trace.Samples(), events);
  EXPECT_NEAR(trials.at(0).break_point->value.value.mm(), 80, 1e-3);
  EXPECT_NEAR(trials.at(0).recovery->value.value.mm(), 110, 1e-3);
}

TEST(Segment, NoDoubleIsCensoredAtTheNearestDistance) {
  Trace trace;
  trace.nearest = 45;
  trace.noise_sd = 0.5;
  auto samples = trace.Samples();
  samples[static_cast<std::size_t>(30 * trace.In(200))].distance->value =
      Length::Millimeters(3);  // one wrong frame
  const auto trials =
      Segment(samples, {At(0, EventKind::kTrialStart), At(trace.TurnTime(), EventKind::kNoDouble),
                        At(trace.EndTime(), EventKind::kTrialEnd)});
  EXPECT_EQ(trials.at(0).censored, Censoring::kBelow);
  EXPECT_FALSE(trials[0].set_aside);
  EXPECT_FALSE(trials[0].break_point);
  ASSERT_TRUE(trials[0].limit);
  EXPECT_NEAR(trials[0].limit->mm(), 45, 1.5);
}

TEST(Segment, DoubleFromTheStartIsCensoredAbove) {
  const Trace trace;
  const auto trials = Segment(
      trace.Samples(), {At(0, EventKind::kTrialStart), At(trace.In(370) + kLag, EventKind::kDouble),
                        At(trace.EndTime(), EventKind::kTrialEnd)});
  EXPECT_EQ(trials.at(0).censored, Censoring::kAbove);
  EXPECT_FALSE(trials[0].set_aside);
  ASSERT_TRUE(trials[0].limit);
  EXPECT_NEAR(trials[0].limit->mm(), 370, 0.01);
}

TEST(Segment, SetsAsideTooFastAtTheEvent) {
  Trace trace;
  trace.speed = 60;
  trace.rest_s = 3;
  const auto trials = Segment(trace.Samples(), UsualEvents(trace));
  EXPECT_EQ(trials.at(0).set_aside, SetAside::kTooFast);
  EXPECT_TRUE(trials[0].break_point);  // what was seen is kept
}

TEST(Segment, SetsAsideTooFastOnAverage) {
  Trace trace;
  trace.speed = 34;
  EXPECT_EQ(Segment(trace.Samples(), UsualEvents(trace)).at(0).set_aside, SetAside::kTooFast);
  trace.speed = 26;
  EXPECT_FALSE(Segment(trace.Samples(), UsualEvents(trace)).at(0).set_aside);
}

TEST(Segment, SetsAsideTrackingLostAtTheEvent) {
  const Trace trace;
  auto samples = trace.Samples();
  for (DistanceSample& s : samples) {
    if (std::abs(ToSeconds(s.time) - trace.In(80)) < 0.3) Lose(s);
  }
  const auto trials = Segment(samples, UsualEvents(trace));
  EXPECT_EQ(trials.at(0).set_aside, SetAside::kTrackingLost);
  EXPECT_FALSE(trials[0].break_point);
}

TEST(Segment, LostOnlyAtTheRecoveryKeepsTheBreak) {
  const Trace trace;
  auto samples = trace.Samples();
  for (DistanceSample& s : samples) {
    if (std::abs(ToSeconds(s.time) - trace.Out(110)) < 0.5) Lose(s);
  }
  const auto trials = Segment(samples, UsualEvents(trace));
  EXPECT_FALSE(trials.at(0).set_aside);
  EXPECT_TRUE(trials[0].break_point);
  EXPECT_FALSE(trials[0].recovery);
}

TEST(Segment, SetsAsideNoApproach) {
  Trace trace;
  trace.nearest = 380;
  const auto trials = Segment(
      trace.Samples(), {At(0, EventKind::kTrialStart), At(trace.TurnTime(), EventKind::kNoDouble),
                        At(trace.EndTime(), EventKind::kTrialEnd)});
  EXPECT_EQ(trials.at(0).set_aside, SetAside::kNoApproach);
}

TEST(Segment, SetsAsideAReportBeforeTheApproach) {
  const Trace trace;
  const auto trials =
      Segment(trace.Samples(), {At(0, EventKind::kTrialStart), At(0.6, EventKind::kDouble),
                                At(trace.EndTime(), EventKind::kTrialEnd)});
  EXPECT_EQ(trials.at(0).set_aside, SetAside::kResponseEarly);
}

TEST(Segment, SetsAsideSilence) {
  const Trace trace;
  const auto trials = Segment(
      trace.Samples(), {At(0, EventKind::kTrialStart), At(trace.EndTime(), EventKind::kTrialEnd)});
  EXPECT_EQ(trials.at(0).set_aside, SetAside::kNoResponse);
}

TEST(Segment, AllFramesLostIsTrackingLost) {
  const Trace trace;
  auto samples = trace.Samples();
  for (DistanceSample& s : samples) Lose(s);
  EXPECT_EQ(Segment(samples, UsualEvents(trace)).at(0).set_aside, SetAside::kTrackingLost);
}

TEST(Segment, ScalesWithLength) {
  Trace trace;
  Trace larger;
  larger.start = 1.2 * trace.start;
  larger.nearest = 1.2 * trace.nearest;
  larger.speed = 1.2 * trace.speed;
  const auto a = Segment(trace.Samples(), UsualEvents(trace));
  const auto b = Segment(larger.Samples(), UsualEvents(trace));
  EXPECT_NEAR(b.at(0).break_point->value.value.mm(), 1.2 * a.at(0).break_point->value.value.mm(),
              1e-6);
}

struct BadEvents {
  std::vector<Event> events;
  const char* says;
};

TEST(Segment, NamesTheEventThatIsOutOfOrder) {
  const std::vector<BadEvents> cases = {
      {{At(1, EventKind::kDouble)}, "event 1 (\"double\" at 1000.0 ms) is outside a trial"},
      {{At(1, EventKind::kTrialStart), At(2, EventKind::kTrialStart)},
       "event 2 (\"trial_start\" at 2000.0 ms) starts"},
      {{At(1, EventKind::kTrialStart), At(2, EventKind::kSingle)},
       "event 2 (\"single\" at 2000.0 ms) has no \"double\""},
      {{At(1, EventKind::kTrialStart), At(2, EventKind::kDouble), At(3, EventKind::kDouble)},
       "event 3"},
      {{At(1, EventKind::kTrialStart), At(2, EventKind::kDouble), At(3, EventKind::kNoDouble)},
       "event 3"},
      {{At(1, EventKind::kTrialStart), At(2, EventKind::kNoDouble), At(3, EventKind::kDouble)},
       "event 3"},
      {{At(1, EventKind::kTrialStart), At(2, EventKind::kNoDouble), At(3, EventKind::kNoDouble)},
       "event 3"},
      {{At(1, EventKind::kTrialStart), At(2, EventKind::kTrialEnd), At(3, EventKind::kTrialEnd)},
       "event 3"},
      {{At(2, EventKind::kTrialStart), At(1, EventKind::kDouble)},
       "event 2 (\"double\" at 1000.0 ms) is earlier"},
      {{At(-5, EventKind::kTrialStart)},
       "event 1 (\"trial_start\" at -5000.0 ms) is before the first frame"},
      {{At(500, EventKind::kTrialStart)},
       "event 1 (\"trial_start\" at 500000.0 ms) is after the last frame"},
  };
  const auto samples = Trace().Samples();
  for (const BadEvents& c : cases) {
    const auto trials = SegmentTrials(samples, c.events);
    ASSERT_FALSE(trials) << c.says;
    EXPECT_EQ(trials.error().code, ErrorCode::kBadValue);
    EXPECT_NE(trials.error().message.find(c.says), std::string::npos) << trials.error().message;
  }
}

TEST(Segment, NoFramesIsAnErrorAndNoEventsIsNoTrial) {
  const auto none = SegmentTrials({}, std::vector<Event>{At(0, EventKind::kTrialStart)});
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().code, ErrorCode::kInsufficient);
  EXPECT_TRUE(Segment(Trace().Samples(), {}).empty());
}

TEST(Segment, FramesThatGoBackAreAnError) {
  auto samples = Trace().Samples();
  std::swap(samples[3], samples[4]);
  const auto trials = SegmentTrials(samples, {});
  ASSERT_FALSE(trials);
  EXPECT_NE(trials.error().message.find("frame 3"), std::string::npos) << trials.error().message;
}

}  // namespace
}  // namespace nearpoint
