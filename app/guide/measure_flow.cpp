#include "app/guide/measure_flow.h"

#include <algorithm>
#include <utility>

namespace nearpoint {
namespace {

// A distance older than this is not shown any more.
constexpr Time kFresh = FromMilliseconds(500);
// What is kept of the time before a trial: SegmentTrials asks for frames around its start.
constexpr Time kBefore = FromMilliseconds(500);
// How far beyond the near end a lost pair of eyes still means "too near for the camera".
constexpr Length kNearEnd = Length::Millimeters(30);

bool Beyond(const std::optional<Length>& distance, Length line) {
  return distance && *distance >= line;
}

// Who sits at the line would else be told one thing and the other in turn.
Length StartLine(FlowPhase phase, const FlowRules& rules) {
  return phase == FlowPhase::kReady ? rules.start_line - rules.start_slack : rules.start_line;
}

}  // namespace

MeasureFlow::MeasureFlow(const FlowRules& rules, const EstimateOptions& options,
                         const StoppingPlan& plan, std::vector<Trial> earlier)
    : rules_(rules),
      options_(options),
      plan_(plan),
      trials_(std::move(earlier)),
      meter_(rules.pace) {
  advice_ = AdviseNextStep(trials_, shared_, options_, plan_);
  state_.trial = static_cast<int>(trials_.size()) + 1;
  state_.counted = advice_.estimate.trials_used;
}

void MeasureFlow::SetProfile(const Profile& profile, const SharedCalibration& shared) {
  profile_ = profile;
  shared_ = shared;
  if (std::exchange(weighed_, true) || trials_.empty()) return;
  advice_ = AdviseNextStep(trials_, shared_, options_, plan_);
  state_.counted = advice_.estimate.trials_used;
  if (advice_.advice != Advice::kContinue) state_.phase = FlowPhase::kDone;
}

void MeasureFlow::Enter(FlowPhase phase, Time now) {
  state_.phase = phase;
  entered_ = now;
  meter_.Clear();
  state_.pace = {};
  if (phase != FlowPhase::kApproach) state_.companion.reset();
}

void MeasureFlow::Interrupt() {
  interrupted_ = true;
  samples_.clear();
  events_.clear();
  seen_.reset();
  last_press_.reset();
  state_.distance.reset();
  state_.lost.reset();
  // The clock of the next source may be another one.
  if (state_.phase != FlowPhase::kDone) Enter(FlowPhase::kFind, Time{});
}

bool MeasureFlow::OnFrame(const DistanceSample& sample) {
  const Time now = sample.time;
  last_ = now;
  interrupted_ = false;
  samples_.push_back(sample);
  const bool in_trial = !events_.empty();
  if (!in_trial) {
    const auto old = std::ranges::find_if(
        samples_, [&](const DistanceSample& s) { return now - s.time <= kBefore; });
    samples_.erase(samples_.begin(), old);
  }
  if (sample.distance) {
    seen_ = now;
    state_.distance = sample.distance->value;
    state_.lost.reset();
  } else if (!seen_ || now - *seen_ > kFresh) {
    state_.distance.reset();
    state_.lost = sample.why;
  }

  switch (state_.phase) {
    case FlowPhase::kFind:
    case FlowPhase::kMoveBack:
    case FlowPhase::kReady:
      if (!state_.distance) {
        if (state_.phase != FlowPhase::kFind) Enter(FlowPhase::kFind, now);
      } else if (!Beyond(state_.distance, StartLine(state_.phase, rules_))) {
        if (state_.phase != FlowPhase::kMoveBack) Enter(FlowPhase::kMoveBack, now);
      } else if (state_.phase != FlowPhase::kReady) {
        Enter(FlowPhase::kReady, now);
      } else if (now - entered_ >= rules_.ready_for && sample.distance) {
        BeginTrial(now);
      }
      break;
    case FlowPhase::kApproach:
    case FlowPhase::kAsNear:
      FollowApproach(sample);
      break;
    case FlowPhase::kReturn:
      FollowReturn(sample);
      break;
    case FlowPhase::kSettle:
      if (!judging_ && now - entered_ >= rules_.settle_for) EndTrial(now);
      break;
    case FlowPhase::kRest:
      state_.rest_left = std::max(Time{}, rules_.rest_for - (now - entered_));
      if (state_.rest_left == Time{}) Enter(FlowPhase::kFind, now);
      break;
    case FlowPhase::kDone:
      break;
  }
  return finished_.has_value();
}

void MeasureFlow::BeginTrial(Time now) {
  Enter(FlowPhase::kApproach, now);
  events_ = {{now, EventKind::kTrialStart}};
  nearest_.reset();
  back_since_.reset();
  last_press_.reset();
  state_.set_aside.reset();
  state_.last_to_the_nose = false;
  start_ = *state_.distance;
  companion_from_ = start_;
  state_.companion = companion_from_;
}

bool MeasureFlow::TurnedRound() const {
  return nearest_ && state_.distance && *state_.distance - *nearest_ >= rules_.turned;
}

bool MeasureFlow::LostTooLong(Time now) const { return !seen_ || now - *seen_ >= rules_.lost_for; }

void MeasureFlow::FollowApproach(const DistanceSample& sample) {
  const Time now = sample.time;
  state_.pace = meter_.Add(sample, /*toward=*/true);
  if (sample.distance && (!nearest_ || sample.distance->value < *nearest_)) {
    nearest_ = sample.distance->value;
    nearest_at_ = now;
  }
  // The companion keeps the pace but waits for who stays behind: nobody is to hurry after it.
  const Length ahead = Length::Millimeters(20);
  if (state_.companion && nearest_) {
    const Length step = rules_.pace.wanted * (now - entered_);
    state_.companion = std::max(companion_from_ - step, *nearest_ - ahead);
    if (companion_from_ - step < *nearest_ - ahead) companion_from_ = *state_.companion + step;
  }
  const Length near_end = rules_.shortest + rules_.shortest_margin;
  const bool at_near_end = nearest_ && *nearest_ <= near_end;
  const bool vanished_near = !state_.distance && nearest_ && *nearest_ <= near_end + kNearEnd;
  if (state_.phase == FlowPhase::kApproach && (at_near_end || vanished_near)) {
    state_.phase = FlowPhase::kAsNear;
    state_.companion.reset();
    entered_ = now;
    return;
  }
  if (TurnedRound()) {
    if (state_.phase == FlowPhase::kAsNear) {
      events_.push_back({nearest_at_, EventKind::kNoDouble});
      Enter(FlowPhase::kSettle, now);
    } else if (start_ - *nearest_ >= rules_.turned) {
      EndTrial(now, SetAside::kNoResponse);
    }
    return;
  }
  if (state_.phase == FlowPhase::kApproach && LostTooLong(now)) {
    EndTrial(now, SetAside::kTrackingLost);
  }
}

void MeasureFlow::FollowReturn(const DistanceSample& sample) {
  const Time now = sample.time;
  state_.pace = meter_.Add(sample, /*toward=*/false);
  if (Beyond(state_.distance, rules_.start_line - rules_.start_slack)) {
    if (!back_since_) back_since_ = now;
    if (now - *back_since_ >= rules_.back_for) EndTrial(now);
  } else {
    back_since_.reset();
    if (LostTooLong(now) && now - entered_ >= rules_.lost_for) EndTrial(now);
  }
}

MeasureFlow::Heard MeasureFlow::OnPress(Time time) {
  // A press may be stamped a little before the newest frame, never before the trial it belongs to.
  if (!events_.empty()) time = std::max(time, events_.back().time);
  if (last_press_ && time - *last_press_ < rules_.bounce) return Heard::kNothing;
  switch (state_.phase) {
    case FlowPhase::kApproach:
    case FlowPhase::kAsNear:
      last_press_ = time;
      events_.push_back({time, EventKind::kDouble});
      Enter(FlowPhase::kReturn, time);
      return Heard::kTwo;
    case FlowPhase::kReturn:
      last_press_ = time;
      events_.push_back({time, EventKind::kSingle});
      Enter(FlowPhase::kSettle, time);
      return Heard::kOneAgain;
    case FlowPhase::kRest:
      last_press_ = time;
      Enter(FlowPhase::kFind, time);
      return Heard::kGoOn;
    case FlowPhase::kFind:
    case FlowPhase::kMoveBack:
    case FlowPhase::kReady:
    case FlowPhase::kSettle:
    case FlowPhase::kDone:
      return Heard::kNothing;
  }
  return Heard::kNothing;
}

void MeasureFlow::EndTrial(Time now, std::optional<SetAside> known_reason) {
  events_.push_back({now, EventKind::kTrialEnd});
  TrialToJudge over;
  over.number = state_.trial;
  over.events = std::exchange(events_, {});
  over.samples = std::exchange(samples_, {});
  over.known_reason = known_reason;
  over.earlier = trials_;
  over.profile = profile_;
  over.shared = shared_;
  over.options = options_;
  over.plan = plan_;
  judging_ = true;
  last_ = now;
  if (others_judge_) {
    to_judge_ = std::move(over);
    if (state_.phase != FlowPhase::kSettle) Enter(FlowPhase::kSettle, now);
  } else {
    Judged(JudgeTrial(std::move(over)));
  }
}

std::optional<TrialToJudge> MeasureFlow::TakeToJudge() {
  return std::exchange(to_judge_, std::nullopt);
}

void MeasureFlow::Judged(JudgedTrial judged) {
  judging_ = false;
  const Trial& trial = judged.done.trial;
  trials_.push_back(trial);
  advice_ = std::move(judged.advice);
  effects_ = std::move(judged.effects);
  state_.set_aside = trial.set_aside;
  state_.last_to_the_nose = !trial.set_aside && trial.censored == Censoring::kBelow;
  state_.counted = advice_.estimate.trials_used;
  state_.trial = static_cast<int>(trials_.size()) + 1;
  finished_ = std::move(judged.done);
  state_.rest_left = rules_.rest_for;
  if (advice_.advice != Advice::kContinue) {
    Enter(FlowPhase::kDone, last_);
  } else if (interrupted_) {
    Enter(FlowPhase::kFind, Time{});  // on the clock of the next source
  } else {
    Enter(FlowPhase::kRest, last_);
  }
}

std::optional<FlowTrial> MeasureFlow::TakeTrial() { return std::exchange(finished_, std::nullopt); }

}  // namespace nearpoint
