#include "tests/support/exercise_patient.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace nearpoint::testing {
namespace {

constexpr double kDeg = 180 / std::numbers::pi;
constexpr double kCentreMm = 13.5;
constexpr double kFingerStartMm = 400;
constexpr double kFingerMmS = 130;
constexpr double kReportLagS = 0.5;

double AngleDeg(double p, double distance_from_centres) {
  return 2 * std::atan(0.5 * p / distance_from_centres) * kDeg;
}

// A first-order wander.
struct Wander {
  double sd = 0, constant_s = 1, value = 0;
  bool begun = false;
  template <typename Normal>
  double Step(double dt, Normal&& normal) {
    const double carry = begun ? std::exp(-dt / constant_s) : 0;
    begun = true;
    value = carry * value + sd * std::sqrt(1 - carry * carry) * normal();
    return value;
  }
};

}  // namespace

struct Exerciser::Impl {
  Impl(const ExercisePatient& patient, std::uint64_t seed) : p(patient), random(seed) {
    vergence_wander = {p.wander_deg, 3};
    slow_wander = {p.slow_deg, 60};
    yaw_wander = {p.yaw_error_deg, 2};
    unsteady = {p.unsteady_deg, 0.5};
    sway = {p.sway_mm, 4};
    phase = Uniform(0, 6.28);
  }

  double Uniform(double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(random);
  }
  double Normal() { return std::normal_distribution<double>()(random); }
  bool Happens(double per_minute, double dt) { return Uniform(0, 1) < per_minute / 60 * dt; }

  // What the person does, as a share of what the pair asks beyond the screen.
  void Behave(CounterPhase counter, double dt, std::optional<FusionReport>& report) {
    const bool told_far = counter == CounterPhase::kLookFar || counter == CounterPhase::kDone;
    if (told_far) {
      if (near) {
        near = false;
        since_far_s = 0;
        said = false;
      }
      since_far_s += dt;
      finger_mm = std::min(kFingerStartMm, finger_mm + 300 * dt);
      arrived_s = 0;
      hold_s = 0;
      return;
    }
    if (!near) {
      near = true;
      ++repetition;
      since_near_s = -0.4;  // to hear the tone
    }
    since_near_s += dt;
    if (since_near_s < 0) return;
    const double d = PairMm();
    finger_mm = std::max(d, finger_mm - kFingerMmS * dt);
    const bool there = finger_mm <= d;
    if (there) arrived_s += dt;
    if (p.doing == Doing::kReportsTwice && !said && finger_mm < d + kFingerMmS) {
      said = true;
      report = FusionReport::kFused;
    }
    if (there && !said && arrived_s > kReportLagS && p.doing != Doing::kSilent) {
      said = true;
      report = FusionReport::kFused;
    }
    if (!said) {
      if (p.doing == Doing::kSilent && arrived_s > 6) GoBack();
      return;
    }
    hold_s += dt;
    if (p.doing == Doing::kMissesMark && hold_s > 1) {
      report = FusionReport::kMarkMissing;
      GoBack();
    } else if (p.doing == Doing::kLetsGo && hold_s > 2.5 && !let_go) {
      let_go = true;
      report = FusionReport::kApart;
    } else if (hold_s > p.hold_s + 6) {
      report = FusionReport::kApart;  // tired of waiting
      GoBack();
    }
  }
  void GoBack() {
    near = false;
    said = false;
    let_go = false;
    finger_mm = kFingerStartMm;
    arrived_s = 0;
    hold_s = 0;
    gone_s = 2;
    if (repetition > 0) --repetition;
  }

  [[nodiscard]] double PairMm() const {
    const double screen = p.screen_mm + kCentreMm;
    return screen * p.pupil_distance_mm / (p.pupil_distance_mm + p.separation_mm) - kCentreMm;
  }

  Frame Next(CounterPhase counter) {
    const double dt = 1 / p.frames_per_second;
    time_s += dt;
    Frame frame;
    frame.time = FromMilliseconds(1e3 * time_s);
    if (gone_s > 0 && counter != CounterPhase::kLookFar) {
      gone_s -= dt;
    } else {
      gone_s = 0;
      Behave(counter, dt, frame.report);
    }

    const double p_mm = p.pupil_distance_mm;
    const double distance = p.screen_mm + sway.Step(dt, [&] { return Normal(); });
    const double far = AngleDeg(p_mm, distance + kCentreMm);
    const double asked =
        2 * std::atan(0.5 * (p_mm + p.separation_mm) / (distance + kCentreMm)) * kDeg;
    const double extra = asked - far;
    double goal = far;
    const bool following = near && since_near_s > 0 && p.doing != Doing::kOnlyHand;
    if (following && !(p.doing == Doing::kLetsGo && said && hold_s > 2)) {
      goal = std::min(asked, std::max(far, AngleDeg(p_mm, finger_mm + kCentreMm)));
      if (finger_mm <= PairMm()) goal = asked;
      double reach = 1;
      if (p.doing == Doing::kHalfWay) reach = 0.5;
      if (p.doing == Doing::kNearer) reach = 1.7;
      if (p.tires_from > 0 && repetition >= p.tires_from) {
        reach -= p.short_share * (repetition - p.tires_from + 1);
      }
      goal = far + reach * (goal - far);
    }
    turned += (goal - turned) * std::min(1.0, dt / 0.15);
    if (time_s <= 2 * dt) turned = goal;
    const double crossing = turned + unsteady.Step(dt, [&] { return Normal(); });
    double left = crossing / 2;
    double right = crossing / 2;
    if (p.doing == Doing::kOneEye) right = far / 2;
    const bool drifting = p.doing == Doing::kOneDrifts && said && hold_s > 2;
    drift += ((drifting ? std::min(p.drift_deg, extra) : 0) - drift) * std::min(1.0, dt / 0.2);
    left -= drift;
    if (said && near && std::abs(left + right - asked) < std::max(1.0, 0.15 * extra)) {
      true_hold += dt;
    }
    if (frame.report == FusionReport::kFused) true_hold = 0;

    // Blinks, glances.
    if (Happens(p.blinks_per_minute, dt)) blink_s = Uniform(0.1, 0.3);
    if (Happens(p.glances_per_minute, dt)) {
      glance_s = Uniform(0.25, 0.6);
      glance_deg = (Uniform(0, 1) < 0.5 ? -1 : 1) * Uniform(3, 12);
    }
    if (Happens(p.looks_down_per_minute, dt)) down_s = Uniform(0.4, 0.8);
    blink_s -= dt;
    glance_s -= dt;
    down_s -= dt;
    double vertical = 2;
    if (down_s > 0) {
      const double away = 0.5 * (AngleDeg(p_mm, 450) - (left + right));
      left += away;
      right += away;
      vertical = -18;
    }
    const double yaw = 3 * std::sin(phase + 0.5 * time_s);
    double aside = yaw + (glance_s > 0 ? glance_deg : 0);

    // What the tracker makes of it.
    const auto normal = [&] { return Normal(); };
    double error =
        vergence_wander.Step(dt, normal) + slow_wander.Step(dt, normal) + p.white_deg * Normal();
    if (Uniform(0, 1) < p.wild_fraction) error += Uniform(0, 1) < 0.5 ? -5 : 5;
    if (blink_s > -0.08 && blink_s <= 0) error += 1.5 * Normal();
    const double yaw_error = yaw_wander.Step(dt, normal) + 0.4 * Normal();
    left = 0.5 * p.offset_deg + p.gain * left + 0.5 * error + aside + yaw_error;
    right = 0.5 * p.offset_deg + p.gain * right + 0.5 * error - aside - yaw_error;

    DistanceSample s;
    s.frame = frames++;
    s.time = frame.time;
    if (blink_s > 0) {
      s.why = LostReason::kEyesClosed;
      frame.sample = s;
      return frame;
    }
    s.mode = TrackMode::kFace;
    const double distance_sd = p.distance_rel_sd * distance;
    s.distance = UncertainLength{Length::Millimeters(distance + distance_sd * Normal()),
                                 Length::Millimeters(distance_sd)};
    s.eye_mid_mm = Eigen::Vector3d(0, -5, distance);
    s.head = HeadAngles{Angle::Degrees(yaw), Angle::Degrees(2), Angle::Degrees(0)};
    s.demand = Angle::Degrees(far);
    const double eye_sd = std::hypot(p.yaw_error_deg, 0.4, 0.5 * p.white_deg);
    const auto eye = [&](double horizontal) {
      EyeSample out;
      out.iris_px = Eigen::Vector2d(600, 350);
      out.iris_major_px = 1000 * 11.7 / (distance + 3);
      out.rotation = EyeRotation{Angle::Degrees(horizontal), Angle::Degrees(vertical + Normal()),
                                 Angle::Degrees(eye_sd)};
      return out;
    };
    if (p.doing != Doing::kLeftHidden || !near || !said) s.left_eye = eye(left);
    s.right_eye = eye(right);
    if (s.left_eye) {
      s.vergence = Angle::Degrees(left + right);
      s.vergence_sd = Angle::Degrees(0.5);
    }
    frame.sample = s;
    return frame;
  }

  ExercisePatient p;
  std::mt19937_64 random;
  Wander vergence_wander, slow_wander, yaw_wander, unsteady, sway;
  double phase = 0, time_s = 0, turned = 0, drift = 0;
  std::int64_t frames = 0;
  bool near = false, said = false, let_go = false;
  int repetition = 0;
  double since_near_s = 0, since_far_s = 0, finger_mm = kFingerStartMm, arrived_s = 0, hold_s = 0;
  double gone_s = 0, true_hold = 0;
  double blink_s = -1, glance_s = -1, glance_deg = 0, down_s = -1;
};

Exerciser::Exerciser(const ExercisePatient& patient, std::uint64_t seed)
    : impl_(std::make_unique<Impl>(patient, seed)) {}
Exerciser::~Exerciser() = default;
Exerciser::Exerciser(Exerciser&&) noexcept = default;

Exerciser::Frame Exerciser::Next(CounterPhase phase) { return impl_->Next(phase); }
void Exerciser::Set(Doing doing) {
  impl_->p.doing = doing;
  impl_->let_go = false;
}
void Exerciser::SetSeparation(double mm) { impl_->p.separation_mm = mm; }
double Exerciser::true_hold_s() const { return impl_->true_hold; }

void Exercise(Exerciser& patient, RepetitionCounter& counter, double seconds) {
  std::optional<Time> start;
  while (counter.phase() != CounterPhase::kDone) {
    const Exerciser::Frame frame = patient.Next(counter.phase());
    if (!start) start = frame.time;
    if (ToSeconds(frame.time - *start) > seconds) return;
    if (frame.report) counter.OnReport(*frame.report, frame.time);
    if (frame.sample) counter.OnSample(*frame.sample);
  }
}

CounterSetup SetupOf(const ExercisePatient& patient) {
  CounterSetup setup;
  setup.pupils = {Length::Millimeters(patient.pupil_distance_mm), Length::Millimeters(1.5)};
  setup.separation = Length::Millimeters(patient.separation_mm);
  setup.hold_s = patient.hold_s;
  return setup;
}

}  // namespace nearpoint::testing
