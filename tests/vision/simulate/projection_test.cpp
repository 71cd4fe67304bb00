#include "vision/simulate/projection.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <opencv2/calib3d.hpp>
#include <vector>

#include "vision/simulate/patient.h"

namespace nearpoint::simulate {
namespace {

CameraIntrinsics Distorted() {
  CameraIntrinsics camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  camera.distortion = {-0.12, 0.04, 0.0015, -0.001, -0.005};
  camera.fy = 1010;
  camera.cx = 652;
  camera.cy = 348;
  return camera;
}

TEST(SimulateProjection, PinholeOfSixtyFiveDegrees) {
  const CameraIntrinsics camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  EXPECT_NEAR(camera.fx, 1004.599, 0.001);  // computed: 640 / tan(32.5 degrees)
  // 100 mm aside at 500 mm: a fifth of the focal length from the middle, 639.5.
  const Eigen::Vector2d px = Project(camera, {100, -50, 500});
  EXPECT_NEAR(px.x(), 639.5 + 1004.599 / 5, 1e-3);
  EXPECT_NEAR(px.y(), 359.5 - 1004.599 / 10, 1e-3);
}

TEST(SimulateProjection, DistortionIsThatOfOpenCv) {
  const CameraIntrinsics camera = Distorted();
  const cv::Matx33d matrix(camera.fx, 0, camera.cx, 0, camera.fy, camera.cy, 0, 0, 1);
  const std::vector<cv::Point3d> points{{0, 0, 400}, {31, -5, 60}, {-42, 20, 80}, {120, 90, 300}};
  std::vector<cv::Point2d> expected;
  cv::projectPoints(points, cv::Vec3d(0, 0, 0), cv::Vec3d(0, 0, 0), matrix,
                    std::vector<double>(camera.distortion.begin(), camera.distortion.end()),
                    expected);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Eigen::Vector2d px = Project(camera, {points[i].x, points[i].y, points[i].z});
    EXPECT_NEAR(px.x(), expected[i].x, 1e-9);
    EXPECT_NEAR(px.y(), expected[i].y, 1e-9);
  }
}

TEST(SimulateProjection, UnprojectUndoesProject) {
  const CameraIntrinsics camera = Distorted();
  for (const double x : {0.0, 300.0, 640.0, 1279.0}) {
    for (const double y : {0.0, 200.0, 719.0}) {
      const Eigen::Vector2d ray = Unproject(camera, {x, y});
      const Eigen::Vector2d px = Project(camera, {ray.x() * 70, ray.y() * 70, 70});
      EXPECT_NEAR(px.x(), x, 1e-5);
      EXPECT_NEAR(px.y(), y, 1e-5);
    }
  }
}

TEST(SimulateProjection, FrontalCircleIsACircle) {
  const CameraIntrinsics camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  const ProjectedEllipse e = ProjectCircle(camera, {0, 0, 100}, {0, 0, -1}, 5.85);
  EXPECT_NEAR(e.major_px, 2 * 5.85 * camera.fx / 100, 1e-7);
  EXPECT_NEAR(e.minor_px, e.major_px, 1e-6);
  EXPECT_NEAR((e.centre_px - Eigen::Vector2d(639.5, 359.5)).norm(), 0, 1e-7);
}

// A circle of radius r on the axis at distance z, tilted by t: its conic has the centre and the
// axes below (computed by eliminating the plane's parameters; the nearer half is magnified more, so
// the centre is not the circle's centre).
TEST(SimulateProjection, TiltedCircleOnTheAxis) {
  const CameraIntrinsics camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  const double z = 70;
  const double r = 6;
  const double t = 0.4;
  const Eigen::Vector3d normal(std::sin(t), 0, -std::cos(t));
  const ProjectedEllipse e = ProjectCircle(camera, {0, 0, z}, normal, r);
  const double s = r * std::sin(t);
  EXPECT_NEAR(e.minor_px, camera.fx * 2 * r * z * std::cos(t) / (z * z - s * s), 1e-6);
  EXPECT_NEAR(e.major_px, camera.fx * 2 * r / std::sqrt(z * z - s * s), 1e-6);
}

}  // namespace
}  // namespace nearpoint::simulate
