#include "app/exercise/repetition_counter.h"

#include <algorithm>
#include <cmath>

#include "app/exercise/pair_geometry.h"
#include "app/measure/convergence.h"

namespace nearpoint {
namespace {

constexpr double kLongGapS = 2;        // as the tracker: nothing is known of what was before
constexpr double kLongestStepS = 0.5;  // of time counted between two frames
constexpr double kWorthTellingShare =
    0.6;  // an unreported move of the eyes smaller than this is none
constexpr double kAtPairMemoryS = 2;
constexpr double kUnreportedS = 1;    // at the pair without a report, to be called so
constexpr double kHeldAWhileS = 1.5;  // before this it is the wander that looks like the pair
constexpr double kTellUnreportedS = 2;
constexpr double kLeastFallDeg = 2;
constexpr double kLeastFallShare = 0.2;
constexpr double kOneSided = 0.5;  // of the fall, the difference between the eyes

void Blend(double& value, double next, double weight) { value += weight * (next - value); }

}  // namespace

RepetitionCounter::RepetitionCounter(const CounterSetup& setup, const CounterOptions& options)
    : setup_(setup),
      options_(options),
      window_(options.window_s),
      settle_(options.settle_s, 10),
      second_(1.0, 8) {}

CounterUpdate RepetitionCounter::OnSample(const DistanceSample& sample) {
  CounterUpdate update;
  const double now = ToSeconds(sample.time);
  if (last_time_s_ && now <= *last_time_s_) return update;
  const double gap = last_time_s_ ? now - *last_time_s_ : 0;
  last_time_s_ = now;
  if (phase_ == CounterPhase::kDone) return update;
  if (gap > kLongGapS) {
    window_.Clear();
    second_.Clear();
    settle_.Clear();
    BreakHold(update);
  }
  const double dt = std::min(gap, kLongestStepS);
  const CounterPhase before = phase_;

  const auto reading =
      ReadEyes(sample, setup_.pupils.value, setup_.separation, setup_.screen_in_camera_mm);
  if (sample.left_eye) last_left_s_ = now;
  if (sample.right_eye) last_right_s_ = now;
  if (reading) {
    last_seen_s_ = now;
    screen_ = *ScreenDistance(sample, setup_.screen_in_camera_mm) + kCorneaToRotation;
    window_.Add(*reading);
    second_.Add(*reading);
    if (phase_ == CounterPhase::kLookFar) {
      Settle(*reading);
    } else {
      Follow(now, dt, update);
    }
  } else {
    window_.Trim(now);
    second_.Trim(now);
    FollowUnseen(sample, now, dt, update);
  }
  Warn(now);
  update.phase_changed = phase_ != before;
  return update;
}

CounterUpdate RepetitionCounter::OnReport(FusionReport report, Time time) {
  CounterUpdate update;
  // While the eyes still have to look at the screen there is nothing to report on.
  if (phase_ == CounterPhase::kDone || phase_ == CounterPhase::kLookFar) return update;
  const CounterPhase before = phase_;
  const double now = ToSeconds(time);
  if (report == FusionReport::kFused) {
    fused_ = true;
    if (!running_) Begin(now);
    running_->ever_reported = true;
    running_->unreported_s = 0;
    was_at_pair_ = false;
  } else if (running_) {
    fused_ = false;
    BreakHold(update);
    if (report == FusionReport::kMarkMissing) {
      running_->mark_missing = true;
      running_->ever_reported = true;
      Finish(now, Reason(), update);
    } else if (running_->ever_reported && running_->greatest_share < options_.begun) {
      Finish(now, Reason(), update);
    }
  }
  update.phase_changed = phase_ != before;
  return update;
}

CounterUpdate RepetitionCounter::ChangePair(Length separation, Time time) {
  CounterUpdate update = Stop(time);
  setup_.separation = separation;
  window_.Clear();
  second_.Clear();
  settle_.Clear();
  return update;
}

CounterUpdate RepetitionCounter::Stop(Time time) {
  CounterUpdate update;
  const CounterPhase before = phase_;
  if (running_) {
    const bool told = running_->ever_reported;
    Finish(ToSeconds(time), told ? Reason() : NotCounted::kStopped, update);
  }
  update.phase_changed = phase_ != before;
  return update;
}

void RepetitionCounter::Settle(const EyeReading& reading) {
  share_.reset();
  if (settle_from_s_ && reading.time_s < *settle_from_s_) return;
  settle_.Add(reading);
  if (!settle_.Full()) return;
  const auto eyes = settle_.Medians(setup_.gain);
  if (!eyes || eyes->offset_spread > options_.settle_spread.deg() ||
      std::abs(eyes->drift) > options_.settle_drift.deg()) {
    settle_refused_since_.reset();
    return;
  }
  if (offset_ && std::abs(eyes->offset - *offset_) > options_.settle_shift.deg()) {
    if (!settle_refused_since_) settle_refused_since_ = reading.time_s;
    if (reading.time_s - *settle_refused_since_ < options_.resettle_s) return;
  }
  if (settle_refused_since_) looks_ = 0;  // the earlier looks were wrong
  settle_refused_since_.reset();
  Learn(*eyes);
  settle_.Clear();
  fused_ = false;
  phase_ = CounterPhase::kBringNear;
}

void RepetitionCounter::Learn(const EyeMedians& eyes) {
  looks_ = std::min(looks_ + 1, options_.looks);
  const double weight = 1.0 / looks_;
  double offset = offset_.value_or(0);
  Blend(offset, eyes.offset, weight);
  offset_ = offset;
  Blend(base_left_, eyes.left, weight);
  Blend(base_right_, eyes.right, weight);
}

void RepetitionCounter::Begin(double now) {
  running_.emplace();
  running_->start_s = now;
  at_pair_.reset();
  last_at_pair_s_.reset();
  was_at_pair_ = false;
  hold_s_ = hold_share_ = hold_extra_ = 0;
  back_s_ = short_s_ = nearer_s_ = 0;
  fall_s_ = fall_sum_ = difference_sum_ = 0;
}

void RepetitionCounter::Follow(double now, double dt, CounterUpdate& update) {
  const auto eyes = window_.Medians(setup_.gain);
  if (!eyes || !offset_) return;
  const double extra = eyes->asked - eyes->far;
  if (extra <= 0) return;
  const double vergence = (eyes->vergence - *offset_) / setup_.gain;
  const double share = (vergence - eyes->far) / extra;
  share_ = share;
  if (!running_) {
    if (share < options_.begun) return;
    Begin(now);
  }
  RunningAttempt& run = *running_;
  run.greatest_share = std::max(run.greatest_share, share);
  if (second_.Full()) {
    if (const auto second = second_.Medians(setup_.gain)) {
      const double kept = (second->vergence - *offset_) / setup_.gain;
      run.nearest_vergence = std::max(run.nearest_vergence.value_or(kept), kept);
    }
  }
  const double over = (share - 1) * extra;
  const bool nearer = share > options_.too_much || over > options_.greatest_over.deg();
  const bool fell = fused_ && at_pair_ &&
                    at_pair_->vergence - eyes->vergence > std::clamp(options_.fall * extra,
                                                                     options_.least_fall.deg(),
                                                                     options_.greatest_fall.deg());
  const bool at_pair =
      !nearer && !fell && share >= options_.enough && -over <= options_.greatest_short.deg();
  Count(share, dt, at_pair, nearer);
  JudgeEyes(*eyes, dt, at_pair);
  RunHold(now, at_pair, *eyes, share, update);
  if (hold_s_ >= setup_.hold_s) {
    run.hold_failed = JudgeHold();
    Finish(now, run.hold_failed ? std::optional(Reason()) : std::nullopt, update);
    return;
  }
  const double patience = fused_ ? options_.back_reported_s : options_.back_s;
  const bool nothing_yet = !run.ever_reported && run.greatest_share < options_.begun;
  if ((back_s_ >= patience && !nothing_yet) || now - run.start_s > options_.longest_s) {
    Finish(now, Reason(), update);
  }
}

void RepetitionCounter::Count(double share, double dt, bool at_pair, bool nearer) {
  RunningAttempt& run = *running_;
  const bool back = share < options_.begun;
  const bool between = !back && !at_pair && !nearer;
  back_s_ = back ? back_s_ + dt : 0;
  short_s_ = back || between ? short_s_ + dt : 0;
  nearer_s_ = nearer ? nearer_s_ + dt : 0;
  if (fused_) {
    ReportedTime& tally = run.reported;
    (at_pair  ? tally.at_pair
     : back   ? tally.at_screen
     : nearer ? tally.nearer
              : tally.between) += dt;
  } else {
    run.unreported_s = at_pair ? run.unreported_s + dt : 0;
    run.best_unreported_s = std::max(run.best_unreported_s, run.unreported_s);
  }
}

void RepetitionCounter::RunHold(double now, bool at_pair, const EyeMedians& eyes, double share,
                                CounterUpdate& update) {
  if (!fused_) return;
  if (at_pair) {
    if (hold_s_ == 0 && !was_at_pair_) {
      hold_from_s_ = now;
      update.hold_started = true;
      phase_ = CounterPhase::kHold;
    } else if (was_at_pair_ && last_at_pair_s_ && now - *last_at_pair_s_ <= options_.bridge_s) {
      const double held = now - *last_at_pair_s_;
      hold_s_ += held;
      hold_share_ += share * held;
      hold_extra_ += (eyes.asked - eyes.far) * held;
      if (hold_s_ > running_->best_hold_s) {
        running_->best_hold_s = hold_s_;
        running_->hold_from_s = hold_from_s_;
      }
    }
    last_at_pair_s_ = now;
    was_at_pair_ = true;
    return;
  }
  was_at_pair_ = false;
  if (last_at_pair_s_ && now - *last_at_pair_s_ > options_.breaks_s) BreakHold(update);
}

std::optional<NotCounted> RepetitionCounter::JudgeHold() const {
  const double share = hold_share_ / hold_s_;
  const double over = (share - 1) * hold_extra_ / hold_s_;
  if (share < options_.hold_enough || -over > options_.hold_short.deg()) {
    return NotCounted::kNotFarEnough;
  }
  if (share > options_.hold_too_much || over > options_.hold_over.deg()) {
    return NotCounted::kTooNear;
  }
  return std::nullopt;
}

void RepetitionCounter::BreakHold(CounterUpdate& update) {
  if (phase_ == CounterPhase::kHold) {
    update.hold_broken = true;
    phase_ = CounterPhase::kBringNear;
  }
  hold_s_ = hold_share_ = hold_extra_ = 0;
  was_at_pair_ = false;
  last_at_pair_s_.reset();
}

// One eye that leaves the pair lets the vergence fall, and the fall is all its own; when both eyes
// go back to the screen each has half of it. The head's turn moves both eyes by the same amount in
// opposite senses, so the difference is believed only beyond what the tracker leaves open.
void RepetitionCounter::JudgeEyes(const EyeMedians& eyes, double dt, bool at_pair) {
  RunningAttempt& run = *running_;
  if (at_pair) {
    fall_s_ = fall_sum_ = difference_sum_ = 0;
    if (!fused_) {
      at_pair_.reset();
    } else if (!at_pair_) {
      at_pair_ = eyes;
    } else {
      const double weight = std::min(1.0, dt / kAtPairMemoryS);
      Blend(at_pair_->vergence, eyes.vergence, weight);
      Blend(at_pair_->left, eyes.left, weight);
      Blend(at_pair_->right, eyes.right, weight);
    }
    return;
  }
  if (!fused_ || short_s_ < options_.warn_after_s || run.eye) return;
  const bool was_there = at_pair_.has_value();
  // How much each eye is short of where it was at the pair, or of half the pair's turn.
  const double half = 0.5 * (eyes.asked - eyes.far) * setup_.gain;
  const double left = (was_there ? at_pair_->left : base_left_ + half) - eyes.left;
  const double right = (was_there ? at_pair_->right : base_right_ + half) - eyes.right;
  const double fall = left + right;
  if (fall < std::max(kLeastFallDeg, kLeastFallShare * 2 * half)) return;
  if (was_there) run.left_off = true;
  fall_s_ += dt;
  fall_sum_ += fall * dt;
  difference_sum_ += (left - right) * dt;
  if (fall_s_ < options_.eye_named_s) return;
  const double difference = difference_sum_ / fall_s_;
  if (std::abs(difference) <
      std::max(kOneSided * fall_sum_ / fall_s_, options_.eye_certain * eyes.split_sd)) {
    return;
  }
  run.eye = difference > 0 ? DriftingEye::kLeft : DriftingEye::kRight;
}

void RepetitionCounter::FollowUnseen(const DistanceSample& sample, double now, double dt,
                                     CounterUpdate& update) {
  const double unseen = last_seen_s_ ? now - *last_seen_s_ : now;
  if (unseen > options_.window_s) {
    share_.reset();
    settle_.Clear();
  }
  if (!running_) return;
  if (fused_) {
    const bool one = sample.left_eye.has_value() != sample.right_eye.has_value();
    (one ? running_->reported.one_eye : running_->reported.unseen) += dt;
  }
  if (last_at_pair_s_ && now - *last_at_pair_s_ > options_.breaks_s) BreakHold(update);
  if (unseen > options_.lost_s) Finish(now, Reason(), update);
}

NotCounted RepetitionCounter::Reason() const {
  const RunningAttempt& run = *running_;
  if (run.mark_missing) return NotCounted::kMarkMissing;
  if (!run.ever_reported) {
    if (last_time_s_ && last_seen_s_ && *last_time_s_ - *last_seen_s_ > options_.lost_s) {
      return NotCounted::kNotSeen;
    }
    return run.best_unreported_s >= kUnreportedS ? NotCounted::kNotReported
                                                 : NotCounted::kNotFarEnough;
  }
  const ReportedTime& t = run.reported;
  const double seen = t.at_pair + t.at_screen + t.between + t.nearer;
  const double hidden = t.unseen + t.one_eye;
  if (hidden > seen) return t.one_eye > t.unseen ? NotCounted::kOneEyeHidden : NotCounted::kNotSeen;
  if (run.greatest_share < options_.begun) return NotCounted::kOnlyHandMoved;
  if (run.eye) return NotCounted::kOneEyeStayed;
  if (run.hold_failed) return *run.hold_failed;
  if (run.best_hold_s >= kHeldAWhileS || t.at_pair > t.between + t.at_screen + t.nearer) {
    return NotCounted::kNotHeld;
  }
  if (t.nearer > t.between && t.nearer > t.at_screen) return NotCounted::kTooNear;
  if (t.at_screen > t.between) return NotCounted::kOnlyHandMoved;
  return NotCounted::kNotFarEnough;
}

void RepetitionCounter::SetReach(Attempt& attempt) const {
  if (!running_->nearest_vergence || *running_->nearest_vergence <= 0) return;
  const Angle vergence = Angle::Degrees(*running_->nearest_vergence);
  const Length crossing = CrossingDistance(setup_.pupils.value, vergence);
  // d = p / (2 tan(v / 2)), so dd/dv = -p / (4 sin^2(v / 2)) and dd/dp = d / p.
  const double sine = std::sin(vergence.rad() / 2);
  const double per_radian = setup_.pupils.value.mm() / (4 * sine * sine);
  const double far = screen_ ? PairAngle(setup_.pupils.value, Length(), *screen_).rad() : 0;
  const double by_gain = per_radian * setup_.gain_sd * (vergence.rad() - far);
  const double by_pupils = crossing.mm() * (setup_.pupils.sd / setup_.pupils.value);
  attempt.reach = UncertainLength{crossing - kCorneaToRotation,
                                  Length::Millimeters(per_radian * options_.wander.rad())};
  attempt.reach_shared_sd = Length::Millimeters(std::hypot(by_gain, by_pupils));
}

void RepetitionCounter::Finish(double now, std::optional<NotCounted> why, CounterUpdate& update) {
  const RunningAttempt& run = *running_;
  // Eyes that stirred without a word were not an attempt.
  const bool worth_telling = !why || run.ever_reported || run.greatest_share >= kWorthTellingShare;
  if (worth_telling) {
    Attempt attempt;
    attempt.number = static_cast<int>(attempts_.size()) + 1;
    attempt.start = FromMilliseconds(1e3 * run.start_s);
    attempt.end = FromMilliseconds(1e3 * now);
    attempt.separation = setup_.separation;
    if (screen_) {
      attempt.asked =
          FusionDistance(setup_.pupils.value, setup_.separation, *screen_) - kCorneaToRotation;
    }
    attempt.why = why;
    attempt.held_s = run.best_hold_s;
    if (run.hold_from_s) attempt.fusing_s = *run.hold_from_s - run.start_s;
    if (why == NotCounted::kOneEyeStayed) attempt.eye = run.eye;
    SetReach(attempt);
    attempts_.push_back(attempt);
    update.finished = attempt;
    if (!why) ++counted_;
  }
  running_.reset();
  fused_ = false;
  at_pair_.reset();
  hold_s_ = hold_share_ = hold_extra_ = 0;
  was_at_pair_ = false;
  last_at_pair_s_.reset();
  settle_.Clear();
  settle_refused_since_.reset();
  settle_from_s_ = now + options_.travel_s;
  phase_ = counted_ >= setup_.repetitions ? CounterPhase::kDone : CounterPhase::kLookFar;
}

void RepetitionCounter::Warn(double now) {
  warning_.reset();
  const auto missing = [&](const std::optional<double>& last) {
    return !last || now - *last > options_.bridge_s;
  };
  if (missing(last_seen_s_) && phase_ != CounterPhase::kDone) {
    const bool left = missing(last_left_s_);
    const bool right = missing(last_right_s_);
    warning_ = left == right ? CounterWarning::kEyesNotSeen
               : left        ? CounterWarning::kLeftHidden
                             : CounterWarning::kRightHidden;
    return;
  }
  if (!running_) return;
  if (!fused_) {
    if (running_->unreported_s >= kTellUnreportedS) warning_ = CounterWarning::kNotReported;
    return;
  }
  if (nearer_s_ >= options_.warn_after_s) {
    warning_ = CounterWarning::kTooNear;
  } else if (short_s_ >= options_.warn_after_s) {
    if (running_->eye) {
      warning_ = *running_->eye == DriftingEye::kLeft ? CounterWarning::kLeftStopped
                                                      : CounterWarning::kRightStopped;
    } else if (running_->left_off) {
      warning_ = CounterWarning::kEyesDrifted;
    } else if (back_s_ >= options_.warn_after_s) {
      warning_ = CounterWarning::kOnlyHand;
    }
  }
}

}  // namespace nearpoint
