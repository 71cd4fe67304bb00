// Counts repetitions of a graded pair from what the camera sees of the eyes and from what the
// person reports. The hand is not looked at: a finger that moves while the eyes stay on the screen
// counts nothing.
//
// Course of one repetition: look at the screen until the eyes are steady there (this teaches what
// "at the screen" looks like in these eyes today), bring the finger in until the pair behind it
// becomes one, report it, hold, and look at the screen again. The hold runs while the report stands
// and both eyes are turned in as far as the pair asks.
//
// How far the eyes are turned in is the extra vergence over looking at the screen, as a share of
// what the pair asks beyond the screen: 0 at the screen, 1 where the pair falls together. One eye
// that turns alone gives about half.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "app/exercise/attempt.h"
#include "app/exercise/eye_window.h"
#include "vision/core/distance_sample.h"
#include "vision/core/units.h"

namespace nearpoint {

// Our tracker's answer to eyes that cross before the screen. A turned iris is narrower, which also
// reads as farther away, and eyes that are farther away and as far apart are less turned:
// tests/bench/exercise_vergence.cpp prints it for rendered eyes. In the middle of what is met, so
// that the limits of the counter hold for all of it.
inline constexpr double kTrackerGain = 0.82;
inline constexpr double kTrackerGainSd = 0.1;

struct CounterSetup {
  UncertainLength pupils;  // pupil distance for far
  Length separation;       // of the pair shown, centre to centre, in the plane of the target
  int repetitions = 10;    // that must count
  double hold_s = 5;
  // The place of the screen in the camera frame, where the samples' own target is another.
  std::optional<Eigen::Vector3d> screen_in_camera_mm;
  // How the measured vergence answers to the true one. Below 1 where the tracker expects the eyes
  // on its target and is pulled back to it (kTrackerGain).
  double gain = 1;
  double gain_sd = 0.06;
};

// Chosen by tests/bench/exercise_counts, which prints false counts and misses over noise and pair.
struct CounterOptions {
  double window_s = 0.6;  // medians over it: longer than a blink with its edges
  double settle_s = 1.5;  // eyes steady at the screen
  double travel_s = 0.7;  // to hear the tone and get there
  // Steady: robust deviation, and change from the first half to the second.
  Angle settle_spread = Angle::Degrees(1.5);
  Angle settle_drift = Angle::Degrees(1.0);
  // Later looks at the screen must agree with the earlier ones by this much; after `resettle_s` of
  // steady disagreement the new one is believed. The last few looks are averaged.
  Angle settle_shift = Angle::Degrees(2.5);
  double resettle_s = 5;
  int looks = 4;
  double begun = 0.35;  // share from which the eyes have left the screen
  // At the pair, from moment to moment: wide enough for the tracker's wander not to break a hold.
  double enough = 0.6;
  Angle greatest_short = Angle::Degrees(6);
  double too_much = 1.5;
  Angle greatest_over = Angle::Degrees(8);
  // At the pair, on the mean of the whole hold, which decides whether it counts.
  double hold_enough = 0.75;
  Angle hold_short = Angle::Degrees(4);
  double hold_too_much = 1.3;
  Angle hold_over = Angle::Degrees(5);
  // A fall from where these eyes were in the same hold: it is no longer the same convergence.
  double fall = 0.3;
  Angle least_fall = Angle::Degrees(3.5);
  Angle greatest_fall = Angle::Degrees(5);
  double bridge_s = 0.7;         // a gap in the pictures this long does not break a hold (a blink)
  double breaks_s = 1.0;         // off the pair this long breaks it
  double back_s = 1.0;           // back at the screen this long ends an attempt
  double back_reported_s = 2.5;  // the same while the report still stands
  double lost_s = 3.0;           // without eyes this long ends an attempt
  double longest_s = 60;         // of an attempt
  double warn_after_s = 0.6;
  double eye_certain = 2.3;            // deviations of the eyes' difference before one is named
  double eye_named_s = 0.6;            // for so long
  Angle wander = Angle::Degrees(0.9);  // of a 1 s median against the screen's, one deviation
};

enum class CounterPhase {
  kLookFar,    // look at the mark on the screen
  kBringNear,  // bring the finger in and report when the pair is one
  kHold,       // reported and at the pair: hold
  kDone,       // as many as planned were counted
};

enum class CounterWarning {
  kEyesNotSeen,  // no eyes in the picture
  kLeftHidden,   // only the right eye is seen
  kRightHidden,  // only the left eye is seen
  kLeftStopped,  // that eye has turned out while "one" is reported
  kRightStopped,
  kEyesDrifted,  // the eyes no longer cross at the pair while "one" is reported; which one is
                 // not sure
  kOnlyHand,     // "one" is reported and the eyes are at the screen
  kTooNear,      // the eyes cross nearer than the pair
  kNotReported,  // at the pair for a while and nothing reported
};

struct CounterUpdate {
  std::optional<Attempt> finished;
  bool hold_started = false;
  bool hold_broken = false;
  bool phase_changed = false;
};

// Seconds under a standing report, by where the eyes were.
struct ReportedTime {
  double at_pair = 0, at_screen = 0, between = 0, nearer = 0, unseen = 0, one_eye = 0;
};
// What is known of the attempt that runs.
struct RunningAttempt {
  double start_s = 0;
  ReportedTime reported;
  double best_unreported_s = 0, unreported_s = 0;  // at the pair, nothing reported
  double best_hold_s = 0;
  std::optional<double> hold_from_s;       // of the best hold
  std::optional<double> nearest_vergence;  // degrees, corrected, of the best second
  double greatest_share = 0;
  bool ever_reported = false;
  bool mark_missing = false;
  bool left_off = false;  // the eyes were at the pair and one or both left under the report
  std::optional<DriftingEye> eye;
  std::optional<NotCounted> hold_failed;  // held long enough, and not where it should be
};

class RepetitionCounter {
 public:
  explicit RepetitionCounter(const CounterSetup& setup, const CounterOptions& options = {});

  // Samples in the order of their time; reports on the same clock, in the order they come in. A
  // sample whose time does not rise is ignored.
  CounterUpdate OnSample(const DistanceSample& sample);
  CounterUpdate OnReport(FusionReport report, Time time);
  // Another pair; ends an attempt that is under way.
  CounterUpdate ChangePair(Length separation, Time time);
  // The person stops: an attempt under way ends.
  CounterUpdate Stop(Time time);

  [[nodiscard]] CounterPhase phase() const { return phase_; }
  [[nodiscard]] int counted() const { return counted_; }
  [[nodiscard]] double held_s() const { return hold_s_; }
  // Share of the pair's extra vergence now; nullopt when the eyes are not seen or the screen is not
  // learned.
  [[nodiscard]] std::optional<double> share() const { return share_; }
  [[nodiscard]] bool reported() const { return fused_; }
  [[nodiscard]] std::optional<CounterWarning> warning() const { return warning_; }
  [[nodiscard]] const std::vector<Attempt>& attempts() const { return attempts_; }
  // Eyes to the plane of the pair, from the centres of rotation; of the last frame with both eyes.
  [[nodiscard]] std::optional<Length> screen() const { return screen_; }

 private:
  void Settle(const EyeReading& reading);
  void Follow(double now, double dt, CounterUpdate& update);
  void FollowUnseen(const DistanceSample& sample, double now, double dt, CounterUpdate& update);
  void RunHold(double now, bool at_pair, const EyeMedians& eyes, double share,
               CounterUpdate& update);
  [[nodiscard]] std::optional<NotCounted> JudgeHold() const;
  void Learn(const EyeMedians& eyes);
  void BreakHold(CounterUpdate& update);
  void Count(double share, double dt, bool at_pair, bool nearer);
  void JudgeEyes(const EyeMedians& eyes, double dt, bool at_pair);
  void Warn(double now);
  void Begin(double now);
  void Finish(double now, std::optional<NotCounted> why, CounterUpdate& update);
  [[nodiscard]] NotCounted Reason() const;
  void SetReach(Attempt& attempt) const;

  CounterSetup setup_;
  CounterOptions options_;
  CounterPhase phase_ = CounterPhase::kLookFar;
  EyeWindow window_, settle_, second_;
  std::optional<double> offset_;           // vergence - gain * far while at the screen, degrees
  double base_left_ = 0, base_right_ = 0;  // each eye at the screen
  int looks_ = 0;
  std::optional<double> settle_refused_since_, settle_from_s_;
  std::optional<RunningAttempt> running_;
  bool fused_ = false;
  double hold_s_ = 0, hold_from_s_ = 0;
  double hold_share_ = 0, hold_extra_ = 0;  // sums over the hold, weighted by time
  std::optional<double> last_at_pair_s_;
  bool was_at_pair_ = false;
  double back_s_ = 0, short_s_ = 0, nearer_s_ = 0;         // how long now, without a break
  double fall_s_ = 0, fall_sum_ = 0, difference_sum_ = 0;  // of the eyes while short
  std::optional<EyeMedians> at_pair_;                      // the eyes when last at the pair
  std::optional<double> share_;
  std::optional<double> last_time_s_, last_seen_s_, last_left_s_, last_right_s_;
  std::optional<CounterWarning> warning_;
  std::optional<Length> screen_;
  int counted_ = 0;
  std::vector<Attempt> attempts_;
};

}  // namespace nearpoint
