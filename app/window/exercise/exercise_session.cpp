#include "app/window/exercise/exercise_session.h"

#include <algorithm>
#include <cmath>

#include "app/exercise/pair_geometry.h"
#include "app/exercise/practice_eyes.h"
#include "app/measure/convergence.h"
#include "app/measure/robust.h"
#include "calibration/population.h"

namespace nearpoint {
namespace {

constexpr std::size_t kDistanceSamples = 20;
constexpr double kSteady = 0.02;      // robust deviation of the distance, as a share of it
constexpr double kMovedShare = 0.05;  // the pair is made anew from here on
constexpr double kUsualScreenMm = 500;
constexpr double kFigureMm = 28;      // 3 degrees at half a metre
constexpr double kScaleShare = 0.04;  // of the distance, for a face and camera nobody measured
constexpr double kMeasuredShare = 0.015;
constexpr Time kClockSlack = FromMilliseconds(500);  // frames may come a little out of order
constexpr Time kPause = FromMilliseconds(3000);      // more than the counter bridges

UncertainLength PupilsOf(const AppContext& context) {
  if (context.practice) return {PracticeEyes::kPupils, Length::Millimeters(1)};
  const FaceScale face = WithPopulation(context.profile.face);
  return *face.distance_pd;
}

}  // namespace

ExerciseSession::ExerciseSession(AppContext& context, Day day)
    : context_(context), store_(context.store), plan_(CommonPracticePlan()), day_(day) {
  const RowId person = context.person ? context.person->id : 0;
  const auto plan = store_.Plan(person);
  if (plan) {
    plan_ = *plan;
  } else {
    error_ = plan.error();
  }
  level_ = std::clamp(plan_.first_level, 1, static_cast<int>(plan_.levels.size()));
  if (context.practice) return;
  const auto sessions = store_.Sessions(person);
  if (!sessions) {
    error_ = sessions.error();
    return;
  }
  level_ = NextLevel(plan_, LevelResults(*sessions, plan_), static_cast<int>(plan_.levels.size()));
}

LevelLimits ExerciseSession::Limits() const {
  LevelLimits limits;
  limits.figure = Length::Millimeters(kFigureMm);
  return limits;
}

double ExerciseSession::figure_dots() const {
  return surface_.mm_per_dot > 0 ? kFigureMm / surface_.mm_per_dot : 0;
}

PairView ExerciseSession::view() const {
  PairView view;
  view.pupils = PupilsOf(context_);
  view.screen = {screen_.value_or(Length()), screen_sd_};
  return view;
}

void ExerciseSession::SetSurface(const PairSurface& surface, double relative_sd) {
  const bool same = surface.mm_per_dot == surface_.mm_per_dot && surface.width == surface_.width;
  surface_ = surface;
  surface_relative_sd_ = relative_sd;
  if (!same && screen_) ChoosePair(last_);
}

bool ExerciseSession::ChangeLevel(int level) {
  if (level < 1 || level > static_cast<int>(plan_.levels.size())) return false;
  level_ = level;
  if (screen_) ChoosePair(last_);
  return true;
}

Profile ExerciseSession::TrackerProfile() {
  Profile profile = context_.profile;
  screen_in_camera_mm_ = profile.target_mm;
  // Half way between what the screen and what the pair ask, at half a metre: the tracker looks for
  // each iris where it expects the eyes to look.
  const Length pupils = PupilsOf(context_).value;
  const Length screen = Length::Millimeters(kUsualScreenMm) + kCorneaToRotation;
  const Length pair = plan_.levels[static_cast<std::size_t>(level_ - 1)] + kCorneaToRotation;
  const Angle middle =
      (ConvergenceAngle(pupils, pair, Length()) + ConvergenceAngle(pupils, screen, Length())) / 2;
  profile.target_mm.z() += (screen - CrossingDistance(pupils, middle)).mm();
  return profile;
}

TrackerOptions ExerciseSession::Tracking() const { return {Limits().nearest - kCorneaToRotation}; }

void ExerciseSession::FindDistance(const DistanceSample& sample) {
  const auto distance = ScreenDistance(sample, screen_in_camera_mm_);
  if (!distance || !std::isfinite(distance->mm())) return;
  distances_mm_.push_back(distance->mm());
  if (distances_mm_.size() > kDistanceSamples) distances_mm_.erase(distances_mm_.begin());
  if (distances_mm_.size() < kDistanceSamples) return;
  const double middle = MedianOf(distances_mm_);
  const Length screen = Length::Millimeters(middle) + kCorneaToRotation;
  if (screen_) {
    // Between repetitions only, so that nothing moves while it is looked at.
    const bool between = counter_ && counter_->phase() == CounterPhase::kLookFar;
    const bool moved = std::abs(screen / *screen_ - 1) > kMovedShare;
    if (!moved || (counter_ && !between)) return;
  }
  if (RobustSpread(distances_mm_) > kSteady * middle) return;
  screen_ = screen;
  ChoosePair(sample.time);
}

void ExerciseSession::ChoosePair(Time now) {
  // An error of the screen's scale moves the pair as an error of its distance would.
  const double share = context_.calibrated || context_.practice ? kMeasuredShare : kScaleShare;
  screen_sd_ = *screen_ * std::hypot(share, surface_relative_sd_);
  const int count = static_cast<int>(plan_.levels.size());
  Result<PairLevel> found = Fail(ErrorCode::kInsufficient, "");
  std::string first_reason;
  const auto fits = [&](int level) {
    found =
        MakeLevel(view(), surface_, Limits(), plan_.levels[static_cast<std::size_t>(level - 1)]);
    if (!found && first_reason.empty()) first_reason = found.error().message;
    return found.has_value();
  };
  // The planned one, else the next easier, else the next harder.
  int level = level_;
  while (level >= 1 && !fits(level)) --level;
  if (level < 1) {
    level = level_ + 1;
    while (level <= count && !fits(level)) ++level;
  }
  if (!found) {
    trouble_ = first_reason;
    return;
  }
  trouble_.clear();
  level_ = level;
  const bool same = pair_ && pair_->separation == found->separation;
  pair_ = *found;
  pair_->number = level;
  if (counter_) {
    if (!same) Keep(counter_->ChangePair(pair_->separation, now));
    return;
  }
  CounterSetup setup;
  setup.pupils = view().pupils;
  setup.separation = pair_->separation;
  setup.repetitions = plan_.repetitions;
  setup.hold_s = plan_.hold_s;
  setup.screen_in_camera_mm = screen_in_camera_mm_;
  if (screen_in_camera_mm_) {
    setup.gain = kTrackerGain;
    setup.gain_sd = kTrackerGainSd;
  }
  counter_.emplace(setup);
}

CounterUpdate ExerciseSession::OnSample(const DistanceSample& as_it_came) {
  DistanceSample sample = as_it_came;
  // A source that was opened again begins its own clock anew; the exercise goes on with its own.
  if (sample.time + shift_ < last_ - kClockSlack) shift_ = last_ + kPause - sample.time;
  sample.time += shift_;
  last_ = std::max(last_, sample.time);
  FindDistance(sample);
  if (!counter_) return {};
  return Keep(counter_->OnSample(sample));
}

CounterUpdate ExerciseSession::OnReport(FusionReport report, Time time) {
  if (!counter_) return {};
  return Keep(counter_->OnReport(report, time + shift_));
}

CounterUpdate ExerciseSession::Interrupt() {
  if (!counter_) return {};
  return Keep(counter_->Stop(last_));
}

CounterUpdate ExerciseSession::Keep(CounterUpdate update) {
  if (!update.finished) return update;
  attempts_.push_back(*update.finished);
  ExerciseSetup setup;
  setup.person = context_.person ? context_.person->id : 0;
  setup.practice = context_.practice;
  setup.day = day_;
  setup.plan = plan_;
  setup.level = level_;
  setup.view = view();
  setup.mm_per_dot = surface_.mm_per_dot;
  begun_ = true;
  // What the store does not take now is said above the page, kept and tried again.
  static_cast<void>(context_.pending->Do(
      [id = id_, setup, attempt = *update.finished, &store = context_.store]() -> Result<void> {
        ExerciseStore exercises(store);
        if (*id == 0) {
          const auto begun = exercises.Begin(setup);
          if (!begun) return tl::unexpected(begun.error());
          *id = *begun;
        }
        return exercises.AddAttempt(*id, attempt);
      }));
  return update;
}

void ExerciseSession::End(const QString& comfort) {
  if (!begun_) return;
  static_cast<void>(context_.pending->Do([id = id_, comfort, &store = context_.store] {
    return ExerciseStore(store).End(*id, comfort);
  }));
}

ExerciseSummary ExerciseSession::summary() const {
  return Summarise(attempts_, plan_.repetitions, view());
}

}  // namespace nearpoint
