#include "vision/pipeline/card_placement.h"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <set>

#include "vision/card/card_pattern.h"
#include "vision/distance/head_fit.h"

namespace nearpoint {
namespace {

constexpr int kParameters = 9;  // turn, middle, bend across and down, aspect
using Parameters = Eigen::Matrix<double, kParameters, 1>;
constexpr double kLeastSdPx = 0.03;  // of a corner, whatever its edges promise
constexpr double kBendPriorMm = 4;   // keeps few markers from inventing a bend
constexpr double kFlatMm = 0.1;      // of a card whose bend is not proven: few markers could trade
                                     // a bend for a tilt
constexpr double kKnownAspect = 1e-4;  // of a print that is taken to be as it should
constexpr double kFreeAspect = 0.15;
constexpr double kPoorestAspect = 0.05;  // beyond, nothing is said
constexpr double kHuber = 2.5;           // deviations
constexpr double kNearestMm = 15;

struct Pose {
  Eigen::Matrix3d rotation;
  Eigen::Vector3d middle;
  double across = 0, down = 0;
  double aspect = 0;  // height by what the width demands, less one
};

Pose Moved(const Pose& pose, const Parameters& step) {
  Pose out = pose;
  const Eigen::Vector3d turn = step.head<3>();
  if (turn.norm() > 0) {
    out.rotation =
        Eigen::AngleAxisd(turn.norm(), turn.normalized()).toRotationMatrix() * pose.rotation;
  }
  out.middle += step.segment<3>(3);
  out.across += step(6);
  out.down += step(7);
  out.aspect += step(8);
  return out;
}

// Where a point of the print lies when the card is bent: a length along it stays what it was.
Eigen::Vector3d OnCard(const Pose& pose, const Eigen::Vector2d& p) {
  const auto bent = [](double along, double bend, double half) {
    const double rise = bend * (along / half) * (along / half);
    const double slope = 2 * bend * along / (half * half);
    return std::pair(along * (1 - slope * slope / 6), rise);
  };
  const auto [x, zx] = bent(p.x(), pose.across, kCardWidthMm / 2);
  const auto [y, zy] = bent(p.y() * (1 + pose.aspect), pose.down, kCardHeightMm / 2);
  return {x, y, zx + zy};
}

std::optional<Pose> Start(const PatternView& pattern, const CameraIntrinsics& camera) {
  Eigen::Matrix3d k;
  k << camera.fx, 0, camera.cx, 0, camera.fy, camera.cy, 0, 0, 1;
  Eigen::Matrix3d m = k.inverse() * pattern.edges.image_from_card;
  const double scale = (m.col(0).norm() + m.col(1).norm()) / 2;
  if (!(scale > 0) || !m.allFinite()) return std::nullopt;
  m /= m(2, 2) < 0 ? -scale : scale;
  Eigen::Matrix3d rough;
  rough.col(0) = m.col(0);
  rough.col(1) = m.col(1);
  rough.col(2) = m.col(0).cross(m.col(1));
  const Eigen::JacobiSVD<Eigen::Matrix3d> svd(rough, Eigen::ComputeFullU | Eigen::ComputeFullV);
  Pose pose;
  pose.rotation = svd.matrixU() * svd.matrixV().transpose();
  if (pose.rotation.determinant() < 0) return std::nullopt;
  pose.middle = m.col(2);
  if (pose.middle.z() < kNearestMm) return std::nullopt;
  return pose;
}

struct Problem {
  const PatternView& pattern;
  const CameraIntrinsics& camera;
  Eigen::Vector2d bend_sd_mm;  // before: across, down
  double aspect_sd = kKnownAspect;

  // Residuals in deviations: two a corner, then the two bends and the aspect.
  [[nodiscard]] std::optional<Eigen::VectorXd> Residuals(const Pose& pose) const {
    const auto n = static_cast<Eigen::Index>(pattern.corners.size());
    Eigen::VectorXd r(2 * n + 3);
    for (Eigen::Index i = 0; i < n; ++i) {
      const PatternCorner& corner = pattern.corners[static_cast<std::size_t>(i)];
      const Eigen::Vector3d p = pose.rotation * OnCard(pose, corner.card_mm) + pose.middle;
      if (p.z() < kNearestMm) return std::nullopt;
      r.segment<2>(2 * i) = (ProjectPoint(camera, p) - corner.image_px) / Sd(corner);
    }
    r(2 * n) = pose.across / bend_sd_mm.x();
    r(2 * n + 1) = pose.down / bend_sd_mm.y();
    r(2 * n + 2) = pose.aspect / aspect_sd;
    return r;
  }
  [[nodiscard]] static double Sd(const PatternCorner& corner) {
    return std::hypot(corner.sd_px, kLeastSdPx);
  }
};

double Weight(double residual) {
  return std::min(1.0, kHuber / std::max(1e-12, std::abs(residual)));
}

struct Solution {
  Pose pose;
  Eigen::Matrix<double, kParameters, kParameters> covariance;
  double misfit_px = 0;
};

std::optional<Solution> Solve(const Problem& problem, Pose pose) {
  auto r = problem.Residuals(pose);
  if (!r) return std::nullopt;
  const auto cost = [](const Eigen::VectorXd& residuals) {
    double sum = 0;
    for (const double v : residuals) sum += Weight(v) * v * v;
    return sum;
  };
  Eigen::Matrix<double, kParameters, kParameters> normal;
  double damping = 1e-4;
  for (int iteration = 0; iteration < 30; ++iteration) {
    Eigen::MatrixXd jacobian(r->size(), kParameters);
    for (int k = 0; k < kParameters; ++k) {
      Parameters step = Parameters::Zero();
      const double h = k < 3 ? 1e-6 : 1e-4;
      step(k) = h;
      const auto ahead = problem.Residuals(Moved(pose, step));
      const auto behind = problem.Residuals(Moved(pose, -step));
      if (!ahead || !behind) return std::nullopt;
      jacobian.col(k) = (*ahead - *behind) / (2 * h);
    }
    const Eigen::VectorXd w = r->unaryExpr([](double v) { return Weight(v); });
    normal = jacobian.transpose() * w.asDiagonal() * jacobian;
    const Parameters gradient = jacobian.transpose() * w.cwiseProduct(*r);
    bool better = false;
    double gain = 0;
    for (int attempt = 0; attempt < 8 && !better; ++attempt) {
      auto damped = normal;
      damped.diagonal() *= 1 + damping;
      const Parameters step = -damped.ldlt().solve(gradient);
      const Pose next = Moved(pose, step);
      const auto next_r = problem.Residuals(next);
      if (next_r && cost(*next_r) <= cost(*r)) {
        gain = cost(*r) - cost(*next_r);
        pose = next;
        r = next_r;
        better = true;
        damping = std::max(1e-9, damping / 10);
      } else {
        damping *= 10;
      }
    }
    if (!better || gain < 1e-9 * (1 + cost(*r))) break;
  }
  const auto n = static_cast<Eigen::Index>(problem.pattern.corners.size());
  double squares_px = 0;
  for (Eigen::Index i = 0; i < n; ++i) {
    const double sd = Problem::Sd(problem.pattern.corners[static_cast<std::size_t>(i)]);
    squares_px += r->segment<2>(2 * i).squaredNorm() * sd * sd;
  }
  const double spread =
      std::max(1.0, cost(*r) / std::max(1.0, static_cast<double>(2 * n - kParameters)));
  Solution out;
  out.pose = pose;
  out.covariance =
      spread *
      normal.ldlt().solve(Eigen::Matrix<double, kParameters, kParameters>::Identity()).eval();
  out.misfit_px = std::sqrt(squares_px / static_cast<double>(2 * n));
  if (!out.covariance.allFinite()) return std::nullopt;
  return out;
}

// Along a single row or column of markers a bend and a tilt look alike: no bend is looked for
// there.
Eigen::Vector2d BendPrior(const PatternView& pattern) {
  std::set<int> columns;
  std::set<int> rows;
  for (const int id : pattern.markers) {
    columns.insert(id % kMarkerColumns);
    rows.insert(id / kMarkerColumns);
  }
  return {columns.size() < 2 ? kFlatMm : kBendPriorMm, rows.size() < 2 ? kFlatMm : kBendPriorMm};
}

}  // namespace

std::optional<CardPlacement> PlaceCard(const PatternView& pattern, const CameraIntrinsics& camera) {
  if (pattern.markers.size() < 3) return std::nullopt;
  const auto start = Start(pattern, camera);
  if (!start) return std::nullopt;
  auto solution = Solve({pattern, camera, BendPrior(pattern)}, *start);
  if (!solution) return std::nullopt;
  CardPlacement card;
  card.markers = static_cast<int>(pattern.markers.size());
  card.bend_across = {Length::Millimeters(solution->pose.across),
                      Length::Millimeters(std::sqrt(solution->covariance(6, 6)))};
  card.bend_down = {Length::Millimeters(solution->pose.down),
                    Length::Millimeters(std::sqrt(solution->covariance(7, 7)))};
  if (!IsBent(card)) {
    Pose flat = solution->pose;
    flat.across = 0;
    flat.down = 0;
    solution = Solve({pattern, camera, {kFlatMm, kFlatMm}}, flat);
    if (!solution) return std::nullopt;
  }
  // Through the tilt that explains it too, a stretched print fits nearly as well; left free, it
  // shows.
  Pose start_flat = solution->pose;
  start_flat.across = start_flat.down = 0;
  if (const auto free = Solve({pattern, camera, {kFlatMm, kFlatMm}, kFreeAspect}, start_flat)) {
    const double sd = std::sqrt(free->covariance(8, 8));
    if (sd < kPoorestAspect) card.aspect = PrintAspect{free->pose.aspect, sd};
  }
  card.camera_from_card = solution->pose.rotation;
  card.middle_mm = solution->pose.middle;
  card.covariance = solution->covariance.topLeftCorner<6, 6>();
  card.misfit_px = solution->misfit_px;
  return card;
}

bool IsBent(const CardPlacement& card) {
  const auto beyond = [](const UncertainLength& bend) {
    return std::abs(bend.value.mm()) > kLargestBend.mm() &&
           std::abs(bend.value.mm()) > 3 * bend.sd.mm();
  };
  return beyond(card.bend_across) || beyond(card.bend_down);
}

}  // namespace nearpoint
