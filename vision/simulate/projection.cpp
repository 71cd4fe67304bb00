#include "vision/simulate/projection.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace nearpoint::simulate {
namespace {

Eigen::Vector2d Distort(const CameraIntrinsics& camera, const Eigen::Vector2d& n) {
  const auto& [k1, k2, p1, p2, k3] = camera.distortion;
  const double x = n.x();
  const double y = n.y();
  const double r2 = x * x + y * y;
  const double radial = 1 + r2 * (k1 + r2 * (k2 + r2 * k3));
  return {x * radial + 2 * p1 * x * y + p2 * (r2 + 2 * x * x),
          y * radial + p1 * (r2 + 2 * y * y) + 2 * p2 * x * y};
}

}  // namespace

Eigen::Vector2d Project(const CameraIntrinsics& camera, const Eigen::Vector3d& in_camera_mm) {
  const Eigen::Vector2d d = Distort(camera, in_camera_mm.head<2>() / in_camera_mm.z());
  return {camera.fx * d.x() + camera.cx, camera.fy * d.y() + camera.cy};
}

Eigen::Vector2d Unproject(const CameraIntrinsics& camera, const Eigen::Vector2d& px) {
  const Eigen::Vector2d wanted((px.x() - camera.cx) / camera.fx, (px.y() - camera.cy) / camera.fy);
  Eigen::Vector2d n = wanted;
  for (int i = 0; i < 30; ++i) {
    const Eigen::Vector2d step = wanted - Distort(camera, n);
    n += step;
    if (step.squaredNorm() < 1e-20) break;
  }
  return n;
}

cv::Mat RayTable(const CameraIntrinsics& camera) {
  cv::Mat table(camera.height, camera.width, CV_32FC2);
  cv::parallel_for_(cv::Range(0, camera.height), [&](const cv::Range& rows) {
    for (int y = rows.start; y < rows.end; ++y) {
      auto* row = table.ptr<cv::Vec2f>(y);
      for (int x = 0; x < camera.width; ++x) {
        const Eigen::Vector2d n = Unproject(camera, Eigen::Vector2d(x, y));
        row[x] = cv::Vec2f(static_cast<float>(n.x()), static_cast<float>(n.y()));
      }
    }
  });
  return table;
}

double LargestRadius(const CameraIntrinsics& camera) {
  double corner = 0;
  for (const double x : {0.0, camera.width - 1.0}) {
    for (const double y : {0.0, camera.height - 1.0}) {
      corner = std::max(corner, Unproject(camera, {x, y}).norm());
    }
  }
  const auto& [k1, k2, p1, p2, k3] = camera.distortion;
  double r = 0.01;
  for (; r < 6 * corner; r += 0.01) {  // where the distorted radius stops growing
    const double r2 = r * r;
    if (1 + r2 * (3 * k1 + r2 * (5 * k2 + r2 * 7 * k3)) <= 0.05) break;
  }
  return r;
}

ProjectedEllipse ProjectCircle(const CameraIntrinsics& camera,
                               const Eigen::Vector3d& centre_in_camera_mm,
                               const Eigen::Vector3d& unit_normal, double radius_mm) {
  constexpr int kPoints = 72;
  const Eigen::Vector3d a = unit_normal.unitOrthogonal();
  const Eigen::Vector3d b = unit_normal.cross(a);
  Eigen::Matrix<double, 2, kPoints> px;
  for (int i = 0; i < kPoints; ++i) {
    const double angle = 2 * std::numbers::pi * i / kPoints;
    px.col(i) = Project(
        camera, centre_in_camera_mm + radius_mm * (std::cos(angle) * a + std::sin(angle) * b));
  }
  const Eigen::Vector2d mean = px.rowwise().mean();
  const double scale = (px.colwise() - mean).colwise().norm().mean();
  // A u^2 + B u v + C v^2 + D u + E v = 1 about the mean, where the ellipse never passes through
  // the origin.
  Eigen::Matrix<double, kPoints, 5> rows;
  for (int i = 0; i < kPoints; ++i) {
    const Eigen::Vector2d p = (px.col(i) - mean) / scale;
    rows.row(i) << p.x() * p.x(), p.x() * p.y(), p.y() * p.y(), p.x(), p.y();
  }
  const Eigen::Matrix<double, 5, 1> c =
      rows.colPivHouseholderQr().solve(Eigen::Matrix<double, kPoints, 1>::Ones());
  Eigen::Matrix2d quadratic;
  quadratic << c(0), c(1) / 2, c(1) / 2, c(2);
  const Eigen::Vector2d linear(c(3), c(4));
  const Eigen::Vector2d centre = -0.5 * quadratic.inverse() * linear;
  const double level = 1 + centre.dot(quadratic * centre);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> solver(quadratic);
  const Eigen::Vector2d semi = (level / solver.eigenvalues().array()).sqrt();
  return {mean + scale * centre, 2 * scale * semi.maxCoeff(), 2 * scale * semi.minCoeff()};
}

}  // namespace nearpoint::simulate
