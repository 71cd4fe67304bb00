#include "vision/distance/head_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "vision/core/ellipse.h"
#include "vision/distance/circle_projection.h"

namespace nearpoint {
namespace {

using State = Eigen::Matrix<double, kStateCount, 1>;
using StateMatrix = Eigen::Matrix<double, kStateCount, kStateCount>;
constexpr int kMaxResiduals = 2 * 3 + 2 * static_cast<int>(kRigidLandmarks.size()) + 2;
using Residuals = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, kMaxResiduals, 1>;

HeadPose PoseOf(const State& s) {
  HeadPose p;
  p.yaw_rad = s(0);
  p.pitch_rad = s(1);
  p.roll_rad = s(2);
  p.mid_in_camera_mm = s.segment<3>(3);
  p.left_out_rad = s(6);
  p.left_up_rad = s(7);
  p.right_out_rad = s(8);
  p.right_up_rad = s(9);
  return p;
}

State StateOf(const HeadPose& p, const PersonalVector& personal) {
  State s;
  s << p.yaw_rad, p.pitch_rad, p.roll_rad, p.mid_in_camera_mm, p.left_out_rad, p.left_up_rad,
      p.right_out_rad, p.right_up_rad, personal;
  return s;
}

Eigen::Vector2d Distort(const CameraIntrinsics& camera, const Eigen::Vector2d& n) {
  const auto& [k1, k2, p1, p2, k3] = camera.distortion;
  const double x = n.x(), y = n.y(), r2 = x * x + y * y;
  const double radial = 1 + r2 * (k1 + r2 * (k2 + r2 * k3));
  return {x * radial + 2 * p1 * x * y + p2 * (r2 + 2 * x * x),
          y * radial + p1 * (r2 + 2 * y * y) + 2 * p2 * x * y};
}

Eigen::Vector2d ToPixels(const CameraIntrinsics& camera, const Eigen::Vector2d& distorted) {
  return {camera.fx * distorted.x() + camera.cx, camera.fy * distorted.y() + camera.cy};
}

// Local enlargement of the distortion at a point: square root of the area ratio.
double LocalScale(const CameraIntrinsics& camera, const Eigen::Vector2d& n) {
  constexpr double h = 1e-5;
  const Eigen::Vector2d at = Distort(camera, n);
  const Eigen::Vector2d dx = (Distort(camera, n + Eigen::Vector2d(h, 0)) - at) / h;
  const Eigen::Vector2d dy = (Distort(camera, n + Eigen::Vector2d(0, h)) - at) / h;
  return std::sqrt(std::abs(dx.x() * dy.y() - dx.y() * dy.x()));
}

bool HasDistortion(const CameraIntrinsics& camera) {
  return std::any_of(camera.distortion.begin(), camera.distortion.end(),
                     [](double k) { return k != 0; });
}

// Places in the state.
constexpr int kDepth = 5;  // z of the corneal midpoint
constexpr int kLeftOut = 6, kRightOut = 8;

struct Problem {
  const HeadObservation& observation;
  const CameraIntrinsics& camera;
  const Eigen::Vector3d& target_mm;
  std::array<Eigen::Matrix3d, 2> iris_whitening;  // left, right

  Problem(const HeadObservation& o, const CameraIntrinsics& c, const Eigen::Vector3d& t)
      : observation(o), camera(c), target_mm(t) {
    for (int eye = 0; eye < 2; ++eye) {
      const auto& iris = eye == 0 ? o.left_iris : o.right_iris;
      if (!iris) continue;
      iris_whitening[static_cast<std::size_t>(eye)] =
          iris->covariance_px2.llt().matrixL().solve(Eigen::Matrix3d::Identity());
    }
  }

  // Whitened residuals, irises first; false when the state is impossible.
  bool Evaluate(const State& s, Residuals* out) const {
    const HeadPose pose = PoseOf(s);
    const PersonalVector personal = s.tail<kPersonalCount>();
    int n = 0;
    for (int eye = 0; eye < 2; ++eye) {
      const auto& iris = eye == 0 ? observation.left_iris : observation.right_iris;
      if (!iris) continue;
      const auto seen = PredictIris(pose, personal, camera, target_mm, eye == 0);
      if (!seen) return false;
      const double wider =
          LogWidth(seen->aspect, seen->angle_rad, iris->eye_line_rad) - iris->log_width;
      const Eigen::Vector3d error = Eigen::Vector3d(seen->centre_px.x() - iris->centre_px.x(),
                                                    seen->centre_px.y() - iris->centre_px.y(),
                                                    seen->semi_major_px - iris->semi_major_px) +
                                    wider * iris->per_log_width;
      out->segment<3>(n) = iris_whitening[static_cast<std::size_t>(eye)] * error;
      n += 3;
    }
    const Eigen::Matrix3d rotation = CameraFromHead(pose);
    for (std::size_t i = 0; i < observation.landmarks.size(); ++i) {
      const auto& landmark = observation.landmarks[i];
      if (!landmark) continue;
      const Eigen::Vector3d point =
          rotation * LandmarkInHeadMm(personal, static_cast<int>(i)) + pose.mid_in_camera_mm;
      if (point.z() < 1) return false;
      out->segment<2>(n) = (ProjectPoint(camera, point) - landmark->position_px) / landmark->sd_px;
      n += 2;
    }
    if (observation.anchor) {
      const Eigen::Vector3d point =
          rotation * observation.anchor->point_in_head_mm + pose.mid_in_camera_mm;
      if (point.z() < 1) return false;
      out->segment<2>(n) = (ProjectPoint(camera, point) - observation.anchor->position_px)
                               .cwiseQuotient(observation.anchor->sd_px);
    }
    return true;
  }
};

// How the depth that the irises tell answers to what is believed of this person.
PersonalVector DepthPerLength(double depth, const HeadModel& model) {
  PersonalVector out = PersonalVector::Zero();
  out(kIris) = depth / model.mean(kIris);
  const double behind = model.mean(kVertex) + kLimbusDepthMm;
  for (const int lens : {kLeftLens, kRightLens}) {
    if (IsPinned(model, lens)) continue;
    const double per_diopter = 1e-3 * SizeThroughLens(model.mean(lens), behind) / 2 * depth;
    out(lens) = per_diopter * behind;
    if (!IsPinned(model, kVertex)) out(kVertex) += per_diopter * model.mean(lens);
  }
  return out;
}

int CountResiduals(const HeadObservation& o) {
  int n = (o.left_iris ? 3 : 0) + (o.right_iris ? 3 : 0);
  for (const auto& landmark : o.landmarks) n += landmark ? 2 : 0;
  return n + (o.anchor ? 2 : 0);
}

}  // namespace

Eigen::Matrix3d CameraFromHead(const HeadPose& pose) {
  const double cy = std::cos(pose.yaw_rad), sy = std::sin(pose.yaw_rad);
  const double cp = std::cos(pose.pitch_rad), sp = std::sin(pose.pitch_rad);
  const double cr = std::cos(pose.roll_rad), sr = std::sin(pose.roll_rad);
  Eigen::Matrix3d yaw, pitch, roll, facing;
  yaw << cy, 0, sy, 0, 1, 0, -sy, 0, cy;
  pitch << 1, 0, 0, 0, cp, -sp, 0, sp, cp;
  roll << cr, -sr, 0, sr, cr, 0, 0, 0, 1;
  facing << 1, 0, 0, 0, -1, 0, 0, 0, -1;
  return facing * roll * yaw * pitch;
}

Eigen::Vector3d AimInHead(const HeadPose& pose, const PersonalVector& personal,
                          const Eigen::Vector3d& target_mm, bool left) {
  const Eigen::Vector3d target =
      CameraFromHead(pose).transpose() * (target_mm - pose.mid_in_camera_mm);
  const double side = left ? 1 : -1;
  return AimThrough(LensOf(personal, left),
                    {side * personal(kPd) / 2, 0, -kCentreOfRotationDepthMm}, target);
}

EyeInCamera EyeOf(const HeadPose& pose, const PersonalVector& personal,
                  const Eigen::Vector3d& target_mm, bool left) {
  const Eigen::Matrix3d rotation = CameraFromHead(pose);
  const double side = left ? 1 : -1;
  EyeInCamera eye;
  eye.centre_of_rotation_mm =
      rotation * Eigen::Vector3d(side * personal(kPd) / 2, 0, -kCentreOfRotationDepthMm) +
      pose.mid_in_camera_mm;
  const SpectacleLens lens = LensOf(personal, left);
  const Eigen::Vector3d aim =
      lens.IsPlain() ? rotation.transpose() * (target_mm - eye.centre_of_rotation_mm).normalized()
                     : AimInHead(pose, personal, target_mm, left);
  const double horizontal =
      std::atan2(aim.x(), aim.z()) + side * (left ? pose.left_out_rad : pose.right_out_rad);
  const double vertical = std::atan2(aim.y(), std::hypot(aim.x(), aim.z())) +
                          (left ? pose.left_up_rad : pose.right_up_rad);
  const double flat = std::cos(vertical);
  eye.gaze = rotation * Eigen::Vector3d(flat * std::sin(horizontal), std::sin(vertical),
                                        flat * std::cos(horizontal));
  return eye;
}

Eigen::Vector2d ProjectPoint(const CameraIntrinsics& camera, const Eigen::Vector3d& point_mm) {
  return ToPixels(camera, Distort(camera, point_mm.head<2>() / point_mm.z()));
}

std::optional<PredictedIris> PredictIris(const HeadPose& pose, const PersonalVector& personal,
                                         const CameraIntrinsics& camera,
                                         const Eigen::Vector3d& target_mm, bool left) {
  const EyeInCamera eye = EyeOf(pose, personal, target_mm, left);
  const SpectacleLens lens = LensOf(personal, left);
  const Eigen::Vector3d limbus = eye.centre_of_rotation_mm + kLimbusFromCentreMm * eye.gaze;
  const auto ellipse =
      lens.IsPlain()
          ? ProjectCircle(limbus, eye.gaze, personal(kIris) / 2)
          : ProjectCircleThrough(LensAt(lens, CameraFromHead(pose), pose.mid_in_camera_mm), limbus,
                                 eye.gaze, personal(kIris) / 2);
  if (!ellipse) return std::nullopt;
  PredictedIris out;
  out.centre_px = ToPixels(camera, Distort(camera, ellipse->centre));
  const double scale = HasDistortion(camera) ? LocalScale(camera, ellipse->centre) : 1.0;
  out.semi_major_px = ellipse->semi_major * std::sqrt(camera.fx * camera.fy) * scale;
  out.aspect = ellipse->semi_minor / ellipse->semi_major;
  out.angle_rad = ellipse->angle_rad;
  return out;
}

std::optional<HeadFit> FitHead(const HeadObservation& observation, const CameraIntrinsics& camera,
                               const Eigen::Vector3d& target_mm, const HeadModel& model,
                               const PosePrior& prior) {
  const int count = CountResiduals(observation);
  if (count == 0) return std::nullopt;
  const Problem problem(observation, camera, target_mm);

  State prior_mean = StateOf(prior.mean, model.mean);
  prior_mean.segment<4>(6) << prior.gaze_left_rad, prior.gaze_up_rad, -prior.gaze_left_rad,
      prior.gaze_up_rad;
  StateMatrix prior_information = StateMatrix::Zero();
  const auto weight = [](double sd) { return 1 / (sd * sd); };
  prior_information.diagonal().head<kPoseCount>() << weight(prior.turn_sd_rad),
      weight(prior.turn_sd_rad), weight(prior.roll_sd_rad), weight(prior.position_sd_mm),
      weight(prior.position_sd_mm), weight(prior.position_sd_mm), weight(prior.eye_out_sd_rad),
      weight(prior.eye_up_sd_rad), weight(prior.eye_out_sd_rad), weight(prior.eye_up_sd_rad);
  prior_information.bottomRightCorner<kPersonalCount, kPersonalCount>() =
      model.covariance.ldlt().solve(PersonalMatrix::Identity());
  // The depth expected from the frames before was measured with this person's own lengths: were the
  // iris larger than believed, it would be farther in the same proportion. Taken as independent of
  // them, it would seem to tell how large the iris is, frame after frame.
  const double depth_weight = prior_information(kDepth, kDepth);
  const PersonalVector per_length = DepthPerLength(prior.mean.mid_in_camera_mm.z(), model);
  prior_information.block<1, kPersonalCount>(kDepth, kPoseCount) -=
      depth_weight * per_length.transpose();
  prior_information.block<kPersonalCount, 1>(kPoseCount, kDepth) -= depth_weight * per_length;
  prior_information.bottomRightCorner<kPersonalCount, kPersonalCount>() +=
      depth_weight * per_length * per_length.transpose();

  State s = StateOf(prior.mean, model.mean);
  Residuals residuals(count), shifted(count);
  if (!problem.Evaluate(s, &residuals)) return std::nullopt;
  const auto cost = [&](const State& at, const Residuals& r) {
    const State away = at - prior_mean;
    return r.squaredNorm() + away.dot(prior_information * away);
  };
  double current = cost(s, residuals);
  Eigen::Matrix<double, Eigen::Dynamic, kStateCount, 0, kMaxResiduals, kStateCount> jacobian(
      count, kStateCount);
  StateMatrix information = prior_information;
  // Lenses that are known are not asked for; the steps of what is asked for are in their units.
  std::array<double, kStateCount> step_of{};
  for (int k = 0; k < kStateCount; ++k) {
    const int personal = k - kPoseCount;
    step_of[static_cast<std::size_t>(k)] = k < 3 || (k >= 6 && k < kPoseCount) ? 1e-5 : 1e-3;
    if (personal == kLeftPrism || personal == kRightPrism)
      step_of[static_cast<std::size_t>(k)] = 1e-5;
    if (personal >= kLensFirst && IsPinned(model, personal))
      step_of[static_cast<std::size_t>(k)] = 0;
  }
  double damping = 0;
  constexpr int kMaxIterations = 12;
  for (int iteration = 0; iteration < kMaxIterations; ++iteration) {
    for (int k = 0; k < kStateCount; ++k) {
      const double h = step_of[static_cast<std::size_t>(k)];
      if (h == 0) {
        jacobian.col(k).setZero();
        continue;
      }
      State moved = s;
      moved(k) += h;
      if (!problem.Evaluate(moved, &shifted)) return std::nullopt;
      jacobian.col(k) = (shifted - residuals) / h;
    }
    information = prior_information + jacobian.transpose() * jacobian;
    const State gradient = jacobian.transpose() * residuals + prior_information * (s - prior_mean);
    bool improved = false;
    double gain = 0;
    for (int attempt = 0; attempt < 6 && !improved; ++attempt) {
      StateMatrix damped = information;
      damped.diagonal() *= 1 + damping;
      const State step = damped.ldlt().solve(-gradient);
      const State next = s + step;
      if (step.allFinite() && problem.Evaluate(next, &shifted)) {
        const double there = cost(next, shifted);
        if (there <= current) {
          gain = current - there;
          s = next;
          residuals = shifted;
          current = there;
          damping *= 0.3;
          if (damping < 1e-4) damping = 0;
          improved = true;
          break;
        }
      }
      damping = damping == 0 ? 1e-2 : damping * 10;
    }
    if (!improved || gain < 1e-4 * (1 + current)) break;
  }

  HeadFit fit;
  fit.pose = PoseOf(s);
  fit.personal = s.tail<kPersonalCount>();
  if (fit.pose.mid_in_camera_mm.z() < 1) return std::nullopt;
  fit.covariance = information.ldlt().solve(StateMatrix::Identity());
  if (!fit.covariance.allFinite()) return std::nullopt;
  fit.chi2 = residuals.squaredNorm();
  fit.cost = current;
  fit.measurements = count;
  fit.eye_out_sd_rad = prior.eye_out_sd_rad;
  int n = 0;
  if (observation.left_iris) {
    fit.left_iris_chi2 = residuals.segment<3>(n).squaredNorm();
    n += 3;
  }
  if (observation.right_iris) {
    fit.right_iris_chi2 = residuals.segment<3>(n).squaredNorm();
    n += 3;
  }
  fit.landmark_chi2 = residuals.segment(n, count - n - (observation.anchor ? 2 : 0)).squaredNorm();
  return fit;
}

namespace {

// How open the power of the lenses is, 0 to 1: at a dioptre size and lengths are learned together,
// so what the lengths leave open is no longer the same in every frame.
double LensOpen(const HeadModel& model) {
  constexpr double kOpenDiopters = 1;
  const double variance =
      IsPinned(model, kLeftLens) && IsPinned(model, kRightLens)
          ? 0
          : (model.covariance(kLeftLens, kLeftLens) + model.covariance(kRightLens, kRightLens) +
             2 * model.covariance(kLeftLens, kRightLens)) /
                4;
  return std::min(1.0, variance / (kOpenDiopters * kOpenDiopters));
}

}  // namespace

VarianceParts VarianceOf(const Eigen::Matrix<double, kStateCount, 1>& gradient, const HeadFit& fit,
                         const HeadModel& model) {
  const State with_state = fit.covariance * gradient;
  const double whole = std::max(0.0, gradient.dot(with_state));
  // The lenses are learned while they are looked through, so they count with what a frame leaves
  // open.
  PersonalVector with_personal = with_state.tail<kPersonalCount>();
  with_personal.segment<kLensCount>(kLensFirst).setZero();
  VarianceParts out;
  out.shared =
      std::clamp(with_personal.dot(model.covariance.ldlt().solve(with_personal)), 0.0, whole);
  // The angle between visual and optical axis that differs from person to person, and fixation
  // disparity (common practice, no source).
  constexpr double kFixatingSdRad = 0.05;
  const double usual = std::min(1.0, kFixatingSdRad / fit.eye_out_sd_rad);
  double drifting = 0;
  for (const int out_turn : {kLeftOut, kRightOut}) {
    const double leverage = with_state(out_turn) / fit.eye_out_sd_rad;
    drifting += leverage * leverage * (1 - usual * usual);
  }
  // Each ruler's variance is stated on the careful side, and their errors partly cancel: over eight
  // rendered heads of a renderer that is not ours, 68 % of the errors of distance and of vergence
  // lie within this multiple of what the parts add up to.
  constexpr double kCareful = 0.85;
  const double alike = (1 - LensOpen(model)) * out.shared;
  out.frame = kCareful * kCareful * std::max(whole - alike - drifting, 0.0);
  return out;
}

double RelativeScaleSd(const HeadModel& model) {
  const PersonalVector per_length = DepthPerLength(1, model);
  return std::sqrt(per_length.dot(model.covariance * per_length));
}

TargetDistance DistanceToTarget(const HeadFit& fit, const HeadModel& model,
                                const Profile& profile) {
  const Eigen::Vector3d line = fit.pose.mid_in_camera_mm - profile.target_mm;
  const double distance = line.norm();
  const Eigen::Vector3d unit = line / distance;
  State gradient = State::Zero();
  gradient.segment<3>(kDepth - 2) = unit;
  const VarianceParts variance = VarianceOf(gradient, fit, model);
  // How far the head nods is hardly seen: a face whose landmarks lie higher looks the same, in
  // every frame. The corneal midpoint moves up and down with it about the centres of rotation.
  constexpr double kNodSdRad = 0.07;
  const double nod = kNodSdRad * kCentreOfRotationDepthMm * unit.y();
  const double focal = unit.z() * fit.pose.mid_in_camera_mm.z() * profile.camera.focal_rel_sd;
  const double target = profile.target_sd.mm();
  TargetDistance out;
  out.value = Length::Millimeters(distance);
  out.measured_sd = Length::Millimeters(std::sqrt(variance.frame));
  out.shared_sd =
      Length::Millimeters(std::sqrt(variance.shared + nod * nod + focal * focal + target * target +
                                    kCornealOffsetSdMm * kCornealOffsetSdMm));
  return out;
}

}  // namespace nearpoint
