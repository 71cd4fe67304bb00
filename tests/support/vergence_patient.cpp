#include "tests/support/vergence_patient.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>

namespace nearpoint::testing {
namespace {

constexpr double kDegPerRad = 180 / std::numbers::pi;
constexpr double kCentreBehindCorneaMm = 13.5;
constexpr double kReportLagS = 0.35;
constexpr double kTurnBackS = 0.5;
constexpr double kDwellS = 0.6;
constexpr double kFarthestOutMm = 300;

struct Moment {
  double time_s = 0;
  double distance_mm = 0;
};

// A stretch of time in which something happens, with a size.
struct Episode {
  double from_s = 0, to_s = 0;
  double size = 0, size2 = 0;
  // 0 outside, 1 inside, with edges as a saccade's 50 ms.
  [[nodiscard]] double At(double t, double edge_s = 0.05) const {
    return std::clamp(std::min((t - from_s) / edge_s, (to_s - t) / edge_s), 0.0, 1.0);
  }
};

double DemandDeg(double distance_mm, double pd_mm) {
  return 2 * std::atan(0.5 * pd_mm / (distance_mm + kCentreBehindCorneaMm)) * kDegPerRad;
}

class Simulation {
 public:
  Simulation(const VergencePatient& patient, std::uint64_t seed) : p_(patient), random_(seed) {}

  VergenceTrial Run() {
    Move();
    Plan();
    VergenceTrial trial;
    trial.truth = truth_;
    std::int64_t frame = 0;
    for (double t = Uniform(0, 1 / p_.frames_per_second); t < path_.back().time_s;
         t += 1 / p_.frames_per_second) {
      DistanceSample s = At(t);
      s.frame = frame++;
      if (Inside(gaps_, t)) continue;
      trial.samples.push_back(s);
    }
    return trial;
  }

 private:
  double Uniform(double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(random_);
  }
  double Normal(double sd) { return sd * std::normal_distribution<double>()(random_); }

  // The distance every millisecond; the pace varies by a tenth.
  void Move() {
    const double phase = Uniform(0, 6.28);
    double d = p_.start_mm;
    double t = 0;
    double turn_at = 1e9;
    const double step = 0.001;
    const auto add = [&] { path_.push_back({t, d}); };
    for (add(); d > p_.nearest_mm && t < turn_at; t += step) {
      d -= p_.approach_mm_s * (1 + 0.1 * std::sin(phase + 2 * t)) * step;
      if (p_.break_mm && !break_s_ && d <= *p_.break_mm) {
        break_s_ = t;
        if (p_.turns_when_double) turn_at = t + kReportLagS + Uniform(-0.1, 0.1) + kTurnBackS;
      }
      add();
    }
    for (const double end = t + kDwellS + Uniform(0, 0.6); t < end; t += step) add();
    for (; d < kFarthestOutMm; t += step) {
      d += p_.withdrawal_mm_s * (1 + 0.1 * std::sin(phase + 2 * t)) * step;
      if (break_s_ && !return_s_ && d >= p_.recovery_mm) return_s_ = t;
      add();
    }
    if (break_s_) {
      truth_.break_time = FromMilliseconds(1e3 * *break_s_);
      truth_.break_distance = Length::Millimeters(DistanceAt(*break_s_));
    }
    if (return_s_) {
      truth_.recovery_time = FromMilliseconds(1e3 * *return_s_);
      truth_.recovery_distance = Length::Millimeters(DistanceAt(*return_s_));
    }
  }

  [[nodiscard]] double DistanceAt(double t) const {
    const auto i = static_cast<std::size_t>(std::lround(t * 1000));
    return path_[std::min(i, path_.size() - 1)].distance_mm;
  }

  std::vector<Episode> Draw(int count, double shortest_s, double longest_s, double least,
                            double most) {
    std::vector<Episode> out;
    for (int i = 0; i < count; ++i) {
      const double from = Uniform(1, path_.back().time_s - 1);
      const double sign = Uniform(0, 1) < 0.5 ? -1 : 1;
      out.push_back({from, from + Uniform(shortest_s, longest_s), sign * Uniform(least, most),
                     Uniform(0, 1)});
    }
    return out;
  }
  static bool Inside(const std::vector<Episode>& episodes, double t) {
    return std::ranges::any_of(episodes,
                               [t](const Episode& e) { return t >= e.from_s && t <= e.to_s; });
  }

  void Plan() {
    blinks_ = Draw(p_.blinks, 0.1, 0.3, 0, 1);
    saccades_ = Draw(p_.saccades, 0.25, 0.8, 3, 12);
    glances_ = Draw(p_.keyboard_glances, 0.5, 1.0, 15, 25);
    turns_ = Draw(p_.head_turns, 1.2, 1.8, 10, 20);
    gaps_ = Draw(p_.gaps, 0.2, 0.6, 0, 1);
    for (auto& wave : place_waves_) {
      wave = {Uniform(0.5, 3), Uniform(0, 6.28)};
    }
    sway_phase_ = Uniform(0, 6.28);
  }

  // First-order autoregression with stationary deviation sd and this time constant.
  double Wander(double& state, double sd, double constant_s, double dt) {
    const double carry = std::exp(-dt / constant_s);
    if (!started_) carry_fresh_ = true;
    state = carry_fresh_ ? Normal(sd) : carry * state + Normal(sd * std::sqrt(1 - carry * carry));
    return state;
  }

  [[nodiscard]] double Drift(double t) const {
    double x = 0;
    if (break_s_) x += std::clamp((t - *break_s_) / p_.drift_ramp_s, 0.0, 1.0);
    if (return_s_) x -= std::clamp((t - *return_s_) / p_.return_ramp_s, 0.0, 1.0);
    return p_.drift_deg * x;
  }

  DistanceSample At(double t) {
    const double dt = 1 / p_.frames_per_second;
    const double d = DistanceAt(t);
    const double demand = DemandDeg(d, p_.pupil_distance_mm);
    double yaw = p_.sway_deg * std::sin(sway_phase_ + 0.7 * t);
    double turned = 0;
    for (const Episode& turn : turns_) turned += turn.size * turn.At(t, 0.5);
    yaw += turned;
    const double x_mm = 6 * std::sin(sway_phase_ + 0.4 * t);

    // Where the eyes are.
    double vergence = demand;
    if (p_.gaze == Gaze::kElsewhere) {
      vergence = DemandDeg(1000, p_.pupil_distance_mm) + Wander(gaze_state_, 1, 2, dt);
    }
    double left = 0.5 * vergence;
    double right = 0.5 * vergence;
    if (p_.gaze == Gaze::kOneEyeFollows) right = 0.5 * DemandDeg(400, p_.pupil_distance_mm);
    const double beside = std::atan(x_mm / (d + kCentreBehindCorneaMm)) * kDegPerRad;
    double to_left_eye = yaw + beside;  // inward for the left eye, outward for the right
    double vertical = 5;
    for (const Episode& s : saccades_) to_left_eye += s.size * s.At(t);
    for (const Episode& g : glances_) {
      const double share = g.At(t);
      vertical -= std::abs(g.size) * share;
      const double away = share * 0.5 * (DemandDeg(450, p_.pupil_distance_mm) - vergence);
      left += away;
      right += away;
    }
    double drift = Drift(t);
    if (p_.drifted_eye_stays && p_.break_mm) {
      const double since = demand - DemandDeg(*p_.break_mm, p_.pupil_distance_mm);
      drift += drift / p_.drift_deg * 0.5 * since;
    }
    (p_.left_eye_drifts ? left : right) -= drift;

    // What the tracker makes of it.
    double place = 0;
    for (const auto& wave : place_waves_) {
      place += std::sin(wave[0] * std::log(d) * 3 + wave[1]) * std::sqrt(2.0 / 3);
    }
    double error = p_.place_offset_deg * place + Wander(vergence_state_, p_.wander_deg, 3, dt) +
                   Normal(p_.white_deg);
    error += -2 * (turned / 20) * (turned / 20);
    for (const Episode& b : blinks_) {
      if (t > b.from_s - 0.06 && t < b.to_s + 0.06) error += Normal(1.5);
    }
    if (Uniform(0, 1) < p_.wild_fraction) error += Uniform(0, 1) < 0.5 ? -5 : 5;
    const double yaw_error = Wander(yaw_state_, p_.yaw_error_deg, 2, dt) + Normal(p_.yaw_white_deg);
    started_ = true;
    carry_fresh_ = false;
    left = 0.5 * p_.offset_deg + p_.gain * left + 0.5 * error + to_left_eye + yaw_error +
           0.5 * p_.asymmetry_deg;
    right = 0.5 * p_.offset_deg + p_.gain * right + 0.5 * error - to_left_eye - yaw_error -
            0.5 * p_.asymmetry_deg;

    DistanceSample s;
    s.time = FromMilliseconds(1e3 * t);
    if (Inside(blinks_, t)) {
      s.why = LostReason::kEyesClosed;
      return s;
    }
    s.mode = d > 150 ? TrackMode::kFace : TrackMode::kEyes;
    const double distance_sd = p_.distance_rel_sd * d + 0.2;
    s.distance = UncertainLength{Length::Millimeters(d + Normal(distance_sd)),
                                 Length::Millimeters(distance_sd)};
    s.eye_mid_mm = Eigen::Vector3d(x_mm, -5, d);
    s.head = HeadAngles{Angle::Degrees(yaw), Angle::Degrees(2), Angle::Degrees(0)};
    s.demand = Angle::Degrees(demand);
    const double eye_sd =
        std::sqrt(p_.yaw_error_deg * p_.yaw_error_deg + p_.yaw_white_deg * p_.yaw_white_deg +
                  0.25 * p_.white_deg * p_.white_deg);
    const auto eye = [&](double horizontal) {
      EyeSample out;
      out.iris_px = Eigen::Vector2d(600, 350);
      out.iris_major_px = 1000 * 11.7 / (d + 3);
      out.rotation = EyeRotation{Angle::Degrees(horizontal), Angle::Degrees(vertical + Normal(0.8)),
                                 Angle::Degrees(eye_sd)};
      return out;
    };
    if (p_.gaze != Gaze::kLeftCovered) s.left_eye = eye(left);
    s.right_eye = eye(right);
    if (s.left_eye) {
      s.vergence = Angle::Degrees(left + right);
      s.vergence_sd = Angle::Degrees(0.4 + 0.2 * std::abs(Normal(1)));
    }
    return s;
  }

  const VergencePatient& p_;
  std::mt19937_64 random_;
  std::vector<Moment> path_;
  std::optional<double> break_s_, return_s_;
  VergenceTruth truth_;
  std::vector<Episode> blinks_, saccades_, glances_, turns_, gaps_;
  std::array<std::array<double, 2>, 3> place_waves_{};
  double sway_phase_ = 0;
  double vergence_state_ = 0, yaw_state_ = 0, gaze_state_ = 0;
  bool started_ = false, carry_fresh_ = false;
};

}  // namespace

VergenceTrial SimulateVergence(const VergencePatient& patient, std::uint64_t seed) {
  return Simulation(patient, seed).Run();
}

VergencePatient DrawPatient(std::uint64_t seed, bool breaks) {
  std::mt19937_64 random(seed * 7919 + 17);
  const auto uniform = [&](double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(random);
  };
  VergencePatient p;
  constexpr std::array<double, 4> kRates = {15, 24, 30, 60};
  p.frames_per_second = kRates[random() % kRates.size()];
  p.approach_mm_s = uniform(10, 20);
  p.withdrawal_mm_s = uniform(10, 20);
  p.pupil_distance_mm = uniform(54, 68);
  const double break_mm = uniform(50, 150);
  p.nearest_mm = 60;
  if (breaks) {
    p.break_mm = break_mm;
    p.nearest_mm = std::min(60.0, break_mm - 8);
  }
  p.recovery_mm = break_mm + uniform(10, 50);
  p.drift_deg = uniform(5, 12);
  p.drift_ramp_s = uniform(0.2, 0.5);
  p.return_ramp_s = uniform(0.2, 0.5);
  p.left_eye_drifts = random() % 2 == 0;
  p.offset_deg = uniform(-5, 8);
  p.gain = uniform(0.92, 1.08);
  p.asymmetry_deg = uniform(-3, 3);
  p.white_deg = uniform(0.3, 0.5);
  p.place_offset_deg = uniform(1, 2);
  p.saccades = static_cast<int>(random() % 5);
  p.keyboard_glances = static_cast<int>(random() % 2);
  p.head_turns = static_cast<int>(random() % 2);
  p.gaps = static_cast<int>(random() % 2);
  return p;
}

}  // namespace nearpoint::testing
