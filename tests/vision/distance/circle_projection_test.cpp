#include "vision/distance/circle_projection.h"

#include <gmock/gmock.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

namespace nearpoint {
namespace {

TEST(ProjectCircle, FacingTheLensIsACircleOfRadiusOverDistance) {
  const auto e = ProjectCircle({0, 0, 400}, {0, 0, -1}, 5.85);
  ASSERT_TRUE(e);
  EXPECT_NEAR(e->centre.norm(), 0, 1e-12);
  EXPECT_NEAR(e->semi_major, 5.85 / 400, 1e-12);
  EXPECT_NEAR(e->semi_minor, 5.85 / 400, 1e-12);
}

// Every projected point of the rim must lie on the ellipse: the definition, checked without the
// cone.
TEST(ProjectCircle, PassesThroughEveryProjectedPointOfTheRim) {
  const Eigen::Vector3d centre(-24, 9, 72);
  const Eigen::Vector3d normal = Eigen::Vector3d(0.35, -0.2, -0.9).normalized();
  const double radius = 5.85;
  const auto e = ProjectCircle(centre, normal, radius);
  ASSERT_TRUE(e);
  const Eigen::Vector3d u = normal.unitOrthogonal(), v = normal.cross(u);
  for (int k = 0; k < 36; ++k) {
    const double a = k * 10 * std::numbers::pi / 180;
    const Eigen::Vector3d p = centre + radius * (std::cos(a) * u + std::sin(a) * v);
    const Eigen::Vector2d d = p.head<2>() / p.z() - e->centre;
    const double c = std::cos(e->angle_rad), s = std::sin(e->angle_rad);
    const double along = (c * d.x() + s * d.y()) / e->semi_major,
                 across = (-s * d.x() + c * d.y()) / e->semi_minor;
    EXPECT_NEAR(along * along + across * across, 1, 1e-9);
  }
}

// The bias that makes the iris centre a poor ruler: a converging eye at 80 mm, 1004.6 pixels focal
// length. The size of about 1.5 pixels was measured on rendered eyes; computed here from first
// principles.
TEST(ProjectCircle, CentreOfTheEllipseIsNotThePictureOfTheCentre) {
  const Eigen::Vector3d centre_of_rotation(31, 0, 93.5);
  const Eigen::Vector3d gaze = (Eigen::Vector3d(0, 20, 0) - centre_of_rotation).normalized();
  const Eigen::Vector3d limbus = centre_of_rotation + 10.86 * gaze;
  const auto e = ProjectCircle(limbus, gaze, 5.85);
  ASSERT_TRUE(e);
  const double gap = 1004.6 * (e->centre - limbus.head<2>() / limbus.z()).norm();
  EXPECT_GT(gap, 0.5);
  EXPECT_LT(gap, 3.0);
}

TEST(ProjectCircle, RefusesWhatHasNoPicture) {
  EXPECT_FALSE(ProjectCircle({0, 0, -50}, {0, 0, -1}, 5));
  EXPECT_FALSE(ProjectCircle({0, 0, 3}, {0, 0, -1}, 5));
  EXPECT_FALSE(ProjectCircle({0, 0, 100}, {1, 0, 0}, 5));  // seen edge-on
}

}  // namespace
}  // namespace nearpoint
