#include "app/exercise/practice_eyes.h"

#include <algorithm>
#include <cmath>

#include "app/exercise/pair_geometry.h"
#include "app/measure/convergence.h"

namespace nearpoint {
namespace {

constexpr double kFollowS = 0.4;  // how fast the eyes follow the finger
constexpr double kReactS = 0.6;   // to hear and begin
constexpr double kNoiseDeg = 0.4;
constexpr double kAtPairDeg = 1.0;
constexpr double kLongestStepS = 0.2;

}  // namespace

DistanceSample PracticeEyes::At(Time time, CounterPhase phase, std::optional<Angle> asked) {
  const double far = PairAngle(kPupils, Length(), kScreen + kCorneaToRotation).deg();
  const double dt = last_ ? std::clamp(ToSeconds(time - *last_), 0.0, kLongestStepS) : 0;
  if (!last_) vergence_deg_ = far;
  last_ = time;
  const bool near = phase == CounterPhase::kBringNear || phase == CounterPhase::kHold;
  near_s_ = near ? near_s_ + dt : 0;
  const double goal = near && near_s_ > kReactS && asked ? asked->deg() : far;
  vergence_deg_ += (goal - vergence_deg_) * std::min(1.0, dt / kFollowS);
  sees_one_ = asked && std::abs(vergence_deg_ - asked->deg()) < kAtPairDeg;

  std::normal_distribution<double> noise(0, kNoiseDeg);
  DistanceSample s;
  s.frame = frames_++;
  s.time = time;
  s.mode = TrackMode::kFace;
  s.distance = UncertainLength{kScreen, Length::Millimeters(2)};
  s.eye_mid_mm = Eigen::Vector3d(0, 0, kScreen.mm());
  s.head = HeadAngles{};
  s.demand = Angle::Degrees(far);
  EyeSample eye;
  eye.iris_px = Eigen::Vector2d::Zero();  // no picture, so no place in one
  eye.rotation = EyeRotation{Angle::Degrees(vergence_deg_ / 2 + noise(random_) / 2), Angle(),
                             Angle::Degrees(1)};
  s.left_eye = eye;
  eye.rotation->horizontal = Angle::Degrees(vergence_deg_ / 2 + noise(random_) / 2);
  s.right_eye = eye;
  s.vergence = s.left_eye->rotation->horizontal + s.right_eye->rotation->horizontal;
  s.vergence_sd = Angle::Degrees(kNoiseDeg);
  return s;
}

}  // namespace nearpoint
