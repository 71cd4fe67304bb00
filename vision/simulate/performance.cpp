#include "vision/simulate/performance.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>

namespace nearpoint::simulate {
namespace {

constexpr double kStepS = 1.0 / 500;
constexpr double kRestS = 1.2;
constexpr double kRampS = 0.3;             // to reach full speed, and to turn round
constexpr double kDriftS = 0.4;            // for an eye to drift out
constexpr double kRefixateS = 0.3;         // for it to come back
constexpr double kNearestPossibleMm = 25;  // the nose is at the screen
constexpr double kBlinkCloseS = 0.1;
constexpr double kBlinkHoldS = 0.04;
constexpr double kBlinkOpenS = 0.15;
constexpr double kJitterRad = 0.1 * std::numbers::pi / 180;

long StepsIn(double seconds) { return std::lround(seconds / kStepS); }

Eigen::Matrix3d CameraFromHead(double yaw, double pitch, double roll) {
  const Eigen::Matrix3d turn = (Eigen::AngleAxisd(yaw, Eigen::Vector3d::UnitY()) *
                                Eigen::AngleAxisd(-pitch, Eigen::Vector3d::UnitX()) *
                                Eigen::AngleAxisd(-roll, Eigen::Vector3d::UnitZ()))
                                   .toRotationMatrix();
  return Eigen::Vector3d(1, -1, -1).asDiagonal() * turn;
}

// Lids from the start of one blink: 0 open, 1 shut.
double BlinkAt(double since_s) {
  if (since_s < 0) return 0;
  if (since_s < kBlinkCloseS) return SmoothStep(0, kBlinkCloseS, since_s);
  return 1 -
         SmoothStep(kBlinkCloseS + kBlinkHoldS, kBlinkCloseS + kBlinkHoldS + kBlinkOpenS, since_s);
}

// The eyes stay level with the lens as far as the target allows, off the axis by (x, y).
Eigen::Vector3d EyeMid(const Eigen::Vector3d& target, double distance, double x, double y) {
  Eigen::Vector2d aside(x - target.x(), y - target.y());
  const double limit = 0.6 * distance;
  if (aside.norm() > limit) aside *= limit / aside.norm();
  return target + Eigen::Vector3d(aside.x(), aside.y(),
                                  std::sqrt(distance * distance - aside.squaredNorm()));
}

// Rotates a direction given in the head frame: inward toward the patient's right (x falls), and up.
Eigen::Vector3d Turned(const Eigen::Vector3d& in_head, double toward_right, double up) {
  return Eigen::AngleAxisd(-toward_right, Eigen::Vector3d::UnitY()) *
         (Eigen::AngleAxisd(-up, Eigen::Vector3d::UnitX()) * in_head);
}

struct EyeTurns {
  std::array<double, 2> toward_right{}, up{}, outward{};
};

// The target of a held card `distance` before the eyes: near the line from them to the lens.
Eigen::Vector3d HeldTarget(const CardProp& card, const Eigen::Vector3d& eye_mid, double distance) {
  const Eigen::Vector3d toward_lens = -eye_mid.normalized();
  const Eigen::Vector3d down =
      (Eigen::Vector3d::UnitY() - toward_lens.y() * toward_lens).normalized();
  const double below = std::min(card.below.mm(), 0.6 * distance);
  return eye_mid + std::sqrt(distance * distance - below * below) * toward_lens + below * down;
}

// A pose of the head frame in the camera frame.
CardPose InCamera(const CardInHead& card, const Eigen::Matrix3d& rotation,
                  const Eigen::Vector3d& eye_mid) {
  return {rotation * card.head_from_card, rotation * card.middle_mm + eye_mid};
}

PatientState Compose(const PatientOptions& options, double distance, const Eigen::Vector3d& target,
                     const Eigen::Matrix3d& rotation, const Eigen::Vector3d& eye_mid,
                     const EyeTurns& turns) {
  PatientState state;
  state.camera_from_head = rotation;
  state.eye_mid_mm = eye_mid;
  state.target_mm = target;
  state.distance_mm = distance;
  std::array<Eigen::Vector3d, 2> in_head;
  for (const int eye : {kLeft, kRight}) {
    const Eigen::Vector3d centre_in_head(SideSign(eye) * options.appearance.distance_pd.mm() / 2, 0,
                                         -kApexMm);
    state.centre_mm[eye] = rotation * centre_in_head + eye_mid;
    Eigen::Vector3d aim = rotation.transpose() * (target - state.centre_mm[eye]).normalized();
    if (options.appearance.spectacles) {
      const LensBeforeEye lens(*options.appearance.spectacles, options.appearance.distance_pd.mm(),
                               SideSign(eye));
      aim = lens.Aim(centre_in_head, rotation.transpose() * (target - eye_mid));
    }
    const double outward_right = -SideSign(eye) * turns.outward[eye];
    in_head[eye] = Turned(aim, turns.toward_right[eye] + outward_right, turns.up[eye]);
    state.gaze[eye] = rotation * in_head[eye];
    state.drift_rad[eye] = turns.outward[eye];
  }
  state.vergence_rad = VergenceRad(in_head[kLeft], in_head[kRight]);
  return state;
}

// A card on its way from a hand (0) to the nose (1). Nobody converges on a target between the eyes:
// from half way on they look toward the lens.
PatientState Touching(const PatientOptions& options, const CardTouch& touch, double part,
                      const Eigen::Vector3d& held, const Eigen::Matrix3d& rotation,
                      const Eigen::Vector3d& eye_mid, const EyeTurns& turns) {
  const CardPose on_nose = InCamera(touch.card, rotation, eye_mid);
  const Eigen::Vector3d on_nose_target = rotation * touch.target_mm + eye_mid;
  const Eigen::Quaterniond in_hand(CardTurn(*options.card));
  const Eigen::Matrix3d turn =
      in_hand.slerp(part, Eigen::Quaterniond(on_nose.camera_from_card)).toRotationMatrix();
  const Eigen::Vector3d target = held + part * (on_nose_target - held);
  PatientState state =
      Compose(options, (target - eye_mid).norm(), part < 0.5 ? target : Eigen::Vector3d::Zero(),
              rotation, eye_mid, turns);
  state.target_mm = target;
  state.card = CardPose{turn, target - turn * options.card->target_in_card_mm};
  return state;
}

}  // namespace

double VergenceRad(const Eigen::Vector3d& left_in_head, const Eigen::Vector3d& right_in_head) {
  return std::atan2(-left_in_head.x(), left_in_head.z()) +
         std::atan2(right_in_head.x(), right_in_head.z());
}

// What was decided for one trial before it began.
struct Performance::Plan {
  std::optional<double> break_mm;
  double recovery_mm = 0;
  double break_lag_s = 0, recovery_lag_s = 0;
  double turn_after_s = 0;  // after the break
};

namespace {
Random MotionRandom(const PatientOptions& options, std::uint64_t stream) {
  return Random(options.seed, stream);
}
SmoothNoise MakePace(const PatientOptions& options) {
  Random random = MotionRandom(options, 5);
  return SmoothNoise(random, 0.1, 0.6);
}
}  // namespace

Performance::Performance(const PatientOptions& options)
    : options_(options), pace_(MakePace(options)) {
  Rest(options, &card_, &touch_);
  if (options.card && options.card->place == CardPlace::kHeld) {
    Random hand = MotionRandom(options, 6);
    for (int i = 0; i < 3; ++i) hand_.emplace_back(hand, 0.3, 1.5);
  }
  Random sway = MotionRandom(options, 2);
  for (int i = 0; i < 5; ++i) sway_.emplace_back(sway, 0.08, 0.7);
  Random jitter = MotionRandom(options, 3);
  for (int i = 0; i < 4; ++i) jitter_.emplace_back(jitter, 0.4, 6.0);

  if (options.behaviour.hold > Time{}) {
    for (long step = StepsIn(ToSeconds(options.behaviour.hold)); step > 0; --step) {
      Append(options.behaviour.start.mm());
    }
  }
  Random events = MotionRandom(options, 1);
  for (int trial = 0; trial < options.behaviour.trials; ++trial) Perform(trial, events);
  for (long step = StepsIn(kRestS); step > 0; --step) Append(distance_mm_.back());

  const double length_s = static_cast<double>(distance_mm_.size() - 1) * kStepS;
  script_.frame_count =
      static_cast<std::int64_t>(length_s * options.behaviour.frames_per_second) + 1;
  const double mean_trial = (options.behaviour.trials - 1) / 2.0;
  script_.true_break =
      options.behaviour.break_mean + mean_trial * options.behaviour.recession_per_trial;
  script_.true_recovery =
      options.behaviour.recovery_mean + mean_trial * options.behaviour.recession_per_trial;

  if (options.behaviour.blinks_per_minute > 0) {
    Random blinks = MotionRandom(options, 4);
    const double mean_gap_s = 60 / options.behaviour.blinks_per_minute;
    const double dead_s = std::min(0.6, mean_gap_s / 2);
    double at = 0;
    while (true) {
      at += dead_s - (mean_gap_s - dead_s) * std::log(1 - blinks.Uniform());
      if (at > length_s) break;
      blinks_s_.push_back(at);
    }
  }
}

void Performance::Append(double distance_mm) {
  distance_mm_.push_back(static_cast<float>(distance_mm));
  drift_rad_.push_back(0);
}

void Performance::Perform(int trial, Random& random) {
  const Behaviour& b = options_.behaviour;
  // Drawn in the same order whatever the options, so that one change of behaviour leaves the rest
  // as it was.
  const double break_draw = random.Normal();
  const double recovery_draw = random.Normal();
  const double lag1_draw = random.Normal();
  const double lag2_draw = random.Normal();
  const double turn_draw = random.Uniform(0.3, 0.5);
  const double rest_draw = random.Uniform(0, 0.4);

  Plan plan;
  const double tired = b.recession_per_trial.mm() * trial;
  if (!b.fusion_holds) {
    plan.break_mm = b.break_mean.mm() + tired + b.between_trial_sd.mm() * break_draw;
    plan.recovery_mm = b.recovery_mean.mm() + tired + b.between_trial_sd.mm() * recovery_draw;
    plan.recovery_mm = std::max(plan.recovery_mm, *plan.break_mm + 5);
    plan.recovery_mm = std::min(plan.recovery_mm, b.start.mm() - 5);
  }
  const auto lag = [&](double draw) {
    return std::max(0.08, ToSeconds(b.lag) + ToSeconds(b.lag_sd) * draw);
  };
  plan.break_lag_s = lag(lag1_draw);
  plan.recovery_lag_s = lag(lag2_draw);
  plan.turn_after_s = plan.break_lag_s + turn_draw;

  const auto now_s = [&] { return static_cast<double>(distance_mm_.size() - 1) * kStepS; };
  const auto report = [&](double at_s, ReportKind kind) {
    script_.reports.push_back({FromMilliseconds(at_s * 1000), kind});
  };
  // The time within the last step at which the distance crossed a value.
  const auto crossing_s = [&](double value) {
    const double before = distance_mm_[distance_mm_.size() - 2];
    const double after = distance_mm_.back();
    const double part = after == before ? 1 : (value - before) / (after - before);
    return now_s() - (1 - std::clamp(part, 0.0, 1.0)) * kStepS;
  };

  if (distance_mm_.empty()) Append(b.start.mm());
  double distance = distance_mm_.back();
  for (long step = StepsIn(kRestS + rest_draw); step > 0; --step) Append(distance);
  const double start_s = now_s();
  report(start_s, ReportKind::kTrialStart);

  TrialTruth truth;
  double break_s = 0;
  double speed = 0;  // mm/s, negative toward the target
  const double acceleration_in = b.approach.mm_per_s() / kRampS;
  const double acceleration_out = b.withdrawal.mm_per_s() / kRampS;
  bool turning = false;
  while (!turning) {
    const double pace = 1 + 0.12 * std::min(b.sway, 2.0) * std::clamp(pace_.At(now_s()), -2.0, 2.0);
    speed = std::max(speed - acceleration_in * kStepS, -b.approach.mm_per_s() * pace);
    distance = std::max(kNearestPossibleMm, distance + speed * kStepS);
    Append(distance);
    if (plan.break_mm && !truth.broke && distance <= *plan.break_mm) {
      truth.broke = true;
      break_s = std::max(start_s, crossing_s(*plan.break_mm));
      truth.break_time = FromMilliseconds(break_s * 1000);
      truth.break_distance = Length::Millimeters(std::min(*plan.break_mm, b.start.mm()));
      if (b.reports) report(break_s + plan.break_lag_s, ReportKind::kDouble);
    }
    // Who notices nothing leans on to the end.
    turning = truth.broke && b.reports ? now_s() >= break_s + plan.turn_after_s
                                       : distance <= b.nearest.mm();
  }
  const bool held = !truth.broke;
  if (held) report(now_s() + plan.break_lag_s, ReportKind::kNoDouble);

  bool recovered = false;
  double last_report_s = script_.reports.empty() ? 0 : ToSeconds(script_.reports.back().time);
  double recovery_s = 0;
  while (distance < b.start.mm() || speed < 0) {
    const double pace = 1 + 0.12 * std::min(b.sway, 2.0) * std::clamp(pace_.At(now_s()), -2.0, 2.0);
    speed = std::min(speed + acceleration_out * kStepS, b.withdrawal.mm_per_s() * pace);
    // Slows down before the end.
    speed = std::min(speed,
                     std::sqrt(2 * acceleration_out * std::max(0.0, b.start.mm() - distance)) + 1);
    distance = std::max(kNearestPossibleMm, distance + speed * kStepS);
    if (speed > 0) distance = std::min(distance, b.start.mm());
    Append(distance);
    if (truth.broke && !recovered && speed > 0 && distance >= plan.recovery_mm) {
      recovered = true;
      recovery_s = crossing_s(plan.recovery_mm);
      truth.recovery_time = FromMilliseconds(recovery_s * 1000);
      truth.recovery_distance = Length::Millimeters(plan.recovery_mm);
      if (b.reports) {
        report(recovery_s + plan.recovery_lag_s, ReportKind::kSingle);
        last_report_s = recovery_s + plan.recovery_lag_s;
      }
    }
  }
  const double end_s = std::max(now_s(), last_report_s + 0.2);
  while (now_s() < end_s) Append(distance);
  report(now_s(), ReportKind::kTrialEnd);
  script_.trials.push_back(truth);

  if (!truth.broke) return;
  const auto first = static_cast<std::size_t>(break_s / kStepS);
  const double until_s = recovered ? recovery_s : now_s();
  const double reached = b.drift.rad() * SmoothStep(0, kDriftS, until_s - break_s);
  for (std::size_t i = first; i < drift_rad_.size(); ++i) {
    const double t = static_cast<double>(i) * kStepS;
    const double drift = t < until_s ? b.drift.rad() * SmoothStep(0, kDriftS, t - break_s)
                                     : reached * (1 - SmoothStep(0, kRefixateS, t - until_s));
    drift_rad_[i] = static_cast<float>(drift);
  }
}

PatientState Performance::At(Time time) const {
  const Behaviour& b = options_.behaviour;
  const double t = ToSeconds(time);
  const double position = std::clamp(t / kStepS, 0.0, static_cast<double>(distance_mm_.size() - 1));
  const auto index = std::min(static_cast<std::size_t>(position), distance_mm_.size() - 2);
  const double part = position - static_cast<double>(index);
  const double distance =
      distance_mm_[index] +
      part * (static_cast<double>(distance_mm_[index + 1]) - distance_mm_[index]);
  const double drift =
      drift_rad_[index] + part * (static_cast<double>(drift_rad_[index + 1]) - drift_rad_[index]);

  constexpr double kDegree = std::numbers::pi / 180;
  const double sway = b.sway;
  // Near the lens the patient holds still: who sways more than this no longer has both eyes in
  // view.
  const double room = std::clamp(distance / 300, 0.2, 1.2);
  const double turn = b.turn.rad() * std::sin(2 * std::numbers::pi * t / ToSeconds(b.turn_period));
  const Eigen::Matrix3d rotation =
      CameraFromHead(1.6 * kDegree * sway * sway_[0].At(t) + turn,
                     1.3 * kDegree * sway * sway_[1].At(t), 1.0 * kDegree * sway * sway_[2].At(t));
  const double aside = 3.0 * sway * room * sway_[3].At(t);
  const double lower = 2.5 * sway * room * sway_[4].At(t);

  EyeTurns turns;
  for (const int eye : {kLeft, kRight}) {
    turns.toward_right[eye] = kJitterRad * (0.95 * jitter_[0].At(t) + 0.3 * jitter_[2 + eye].At(t));
    turns.up[eye] = kJitterRad * jitter_[1].At(t);
  }
  turns.outward[b.left_eye_drifts ? kLeft : kRight] = drift;
  PatientState state;
  if (options_.card && (touch_ || options_.card->place == CardPlace::kHeld)) {
    const Eigen::Vector3d eye_mid(aside, lower, options_.card->face_distance.mm());
    const Eigen::Vector3d held = HeldTarget(*options_.card, eye_mid, distance);
    const double hold_s = ToSeconds(b.hold);
    if (t < (touch_ ? hold_s / 4 : hold_s)) {  // the card is not yet there
      const Eigen::Vector3d lens = Eigen::Vector3d::Zero();
      state = Compose(options_, eye_mid.norm(), lens, rotation, eye_mid, turns);
    } else if (touch_) {
      const double t0 = ToSeconds(b.hold) / 2;
      state = Touching(options_, *touch_, t0 > 0 ? SmoothStep(t0, t0 + 1, t) : 1, held, rotation,
                       eye_mid, turns);
    } else {
      state = Compose(options_, (held - eye_mid).norm(), held, rotation, eye_mid, turns);
      state.card = InHand(held, t);
    }
  } else {
    const Eigen::Vector3d eye_mid = EyeMid(options_.target_mm, distance, aside, lower);
    state = Compose(options_, distance, options_.target_mm, rotation, eye_mid, turns);
    if (card_) {
      const bool follows = options_.card->moves_with_head;
      state.card = InCamera(*card_, follows ? rotation : CameraFromHead(0, 0, 0), eye_mid);
    }
  }
  const auto after = std::upper_bound(blinks_s_.begin(), blinks_s_.end(), t);
  for (auto it = after; it != blinks_s_.begin() && t - *(it - 1) < 1; --it) {
    state.lids_closed = std::max(state.lids_closed, BlinkAt(t - *(it - 1)));
  }
  return state;
}

CardPose Performance::InHand(const Eigen::Vector3d& target, double t) const {
  constexpr double kDegree = std::numbers::pi / 180;
  Eigen::Matrix3d turn = CardTurn(*options_.card);
  if (!hand_.empty()) {
    const double wobble = 1.5 * kDegree * options_.behaviour.sway;
    turn = (Eigen::AngleAxisd(wobble * hand_[0].At(t), Eigen::Vector3d::UnitX()) *
            Eigen::AngleAxisd(wobble * hand_[1].At(t), Eigen::Vector3d::UnitY()) *
            Eigen::AngleAxisd(wobble * hand_[2].At(t), Eigen::Vector3d::UnitZ()))
               .toRotationMatrix() *
           turn;
  }
  return {turn, target - turn * options_.card->target_in_card_mm};
}

void Performance::Rest(const PatientOptions& options, std::optional<CardInHead>* card,
                       std::optional<CardTouch>* touch) {
  if (!options.card || options.card->place == CardPlace::kHeld) return;
  const HeadShape shape(options.appearance);
  if (options.card->place == CardPlace::kTouch) {
    *touch = CardOnNose(*options.card, shape);
  } else {
    *card = CardOnFace(*options.card, shape);
  }
}

PatientState Performance::Posed(const PatientOptions& options, Length distance, Angle yaw,
                                Angle pitch, Angle roll, Angle left_drift, Angle right_drift) {
  EyeTurns turns;
  turns.outward = {left_drift.rad(), right_drift.rad()};
  const Eigen::Matrix3d rotation = CameraFromHead(yaw.rad(), pitch.rad(), roll.rad());
  const Eigen::Vector3d before_target = EyeMid(options.target_mm, distance.mm(), 0, 0);
  if (!options.card)
    return Compose(options, distance.mm(), options.target_mm, rotation, before_target, turns);
  std::optional<CardInHead> card;
  std::optional<CardTouch> touch;
  Rest(options, &card, &touch);
  if (card) {
    PatientState state =
        Compose(options, distance.mm(), options.target_mm, rotation, before_target, turns);
    const bool follows = options.card->moves_with_head;
    state.card = InCamera(*card, follows ? rotation : CameraFromHead(0, 0, 0), before_target);
    return state;
  }
  const Eigen::Vector3d eye_mid(0, 0, options.card->face_distance.mm());
  const Eigen::Vector3d target = HeldTarget(*options.card, eye_mid, distance.mm());
  if (touch) return Touching(options, *touch, 1, target, rotation, eye_mid, turns);
  PatientState state =
      Compose(options, (target - eye_mid).norm(), target, rotation, eye_mid, turns);
  const Eigen::Matrix3d turn = CardTurn(*options.card);
  state.card = CardPose{turn, target - turn * options.card->target_in_card_mm};
  return state;
}

}  // namespace nearpoint::simulate
