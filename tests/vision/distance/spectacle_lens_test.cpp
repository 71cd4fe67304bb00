#include "vision/distance/spectacle_lens.h"

#include <gmock/gmock.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "vision/distance/head_fit.h"

namespace nearpoint {
namespace {

constexpr double kRad = std::numbers::pi / 180;

SpectacleLens Lens(double diopters, double x = 31) {
  SpectacleLens lens;
  lens.centre_mm = {x, 0, 12};
  lens.power_per_mm = 1e-3 * diopters;
  return lens;
}

// Worked by hand from 1 / (1 - F s) at s = 14.6 mm.
TEST(SizeThroughLens, IsThatOfTheThinLens) {
  EXPECT_NEAR(100 * (1 - SizeThroughLens(-2, 14.6)), 2.8, 0.05);
  EXPECT_NEAR(100 * (1 - SizeThroughLens(-4, 14.6)), 5.5, 0.05);
  EXPECT_NEAR(100 * (1 - SizeThroughLens(-6, 14.6)), 8.1, 0.05);
  EXPECT_NEAR(100 * (SizeThroughLens(3, 14.6) - 1), 4.6, 0.05);
  EXPECT_EQ(SizeThroughLens(0, 14.6), 1);
}

TEST(MeridianPower, RunsFromSphereAlongTheAxisToSphereAndCylinderAcrossIt) {
  EXPECT_NEAR(MeridianPower(-3, -2, Angle::Degrees(0), Angle::Degrees(0)), -3, 1e-12);
  EXPECT_NEAR(MeridianPower(-3, -2, Angle::Degrees(90), Angle::Degrees(0)), -5, 1e-12);
  EXPECT_NEAR(MeridianPower(-3, -2, Angle::Degrees(45), Angle::Degrees(0)), -4, 1e-12);
  EXPECT_NEAR(MeridianPower(-3, -2, Angle::Degrees(30), Angle::Degrees(120)), -5, 1e-12);
}

// The thin lens's own law, from the definition of power: a ray that passes a distance h from the
// centre is turned by h F toward the axis. Every ray from P leaves as if it came from P'.
TEST(SeenThrough, IsWhereAllRefractedRaysMeet) {
  for (const double diopters : {-8.0, -3.0, 2.5, 5.0}) {
    for (const double prism : {0.0, 0.03}) {
      SpectacleLens lens = Lens(diopters);
      lens.apex_rad = {prism, 0, 0};
      const Eigen::Vector3d point(27, 4, -3);
      const Eigen::Vector3d seen = SeenThrough(lens, point);
      for (const double slope : {-0.4, 0.0, 0.3}) {
        const double s = lens.centre_mm.z() - point.z();
        const double at_lens = point.x() + slope * s;
        // Light is turned toward the base, so the eye is seen displaced toward the apex.
        const double after = slope - lens.power_per_mm * (at_lens - lens.centre_mm.x()) - prism;
        const double back = at_lens - after * (lens.centre_mm.z() - seen.z());
        EXPECT_NEAR(back, seen.x(), 1e-9) << diopters << ' ' << prism << ' ' << slope;
      }
      EXPECT_NEAR((TrueFromSeen(lens, seen) - point).norm(), 0, 1e-9) << diopters;
    }
  }
}

TEST(SeenThrough, LeavesWhatIsNotBehindTheLens) {
  const Eigen::Vector3d nose(0, -20, 25);
  EXPECT_EQ(SeenThrough(Lens(-6), nose), nose);
}

// -3 dioptres, 62 mm of pupil distance, target 80 mm before the corneal plane, so 68 mm before the
// lens: T' lies 68 / 1.204 = 56.48 mm before it and 31 / 1.204 = 25.75 mm beside its centre; the
// centre of rotation is 25.5 mm behind: atan(25.75 / 81.98) = 17.44 degrees, 18.34 without a lens.
TEST(AimThrough, TurnsInLessBehindAMinusLensAndMoreBehindAPlusLens) {
  const Eigen::Vector3d eye(31, 0, -13.5), target(0, 0, 80);
  const auto inward = [&](double diopters) {
    const Eigen::Vector3d d = AimThrough(Lens(diopters), eye, target);
    return std::atan2(-d.x(), d.z()) / kRad;
  };
  EXPECT_NEAR(inward(0), 18.34, 0.005);
  EXPECT_NEAR(inward(-3), 17.44, 0.005);
  EXPECT_GT(inward(3), inward(0) + 0.5);
}

// The ray from the target through the lens point that the eye looks at must reach the eye.
TEST(AimThrough, IsTheRayThatTheLensSendsToTheEye) {
  for (const double diopters : {-8.0, -2.0, 3.0, 5.0}) {
    for (const double distance : {60.0, 400.0}) {  // beyond the focus of +5 dioptres, too
      const SpectacleLens lens = Lens(diopters);
      const Eigen::Vector3d eye(31, 0, -13.5), target(3, 0, distance);
      const Eigen::Vector3d d = AimThrough(lens, eye, target);
      const Eigen::Vector3d crossing = eye + d * (lens.centre_mm.z() - eye.z()) / d.z();
      const double before = (crossing.x() - target.x()) / (target.z() - crossing.z());
      const double after = (eye.x() - crossing.x()) / (crossing.z() - eye.z());
      EXPECT_NEAR(after, before - lens.power_per_mm * (crossing.x() - lens.centre_mm.x()), 1e-9)
          << diopters << ' ' << distance;
    }
  }
}

// Truth given beside rendered pictures that are not ours: eyes 62 mm apart, the target 20 mm below
// the lens axis, optical centres 1.5 mm below the pupils; vergence as the angle between the lines
// of sight.
TEST(AimThrough, AgreesWithAnotherRenderersTruth) {
  const auto vergence = [](double diopters, double depth) {
    Eigen::Vector3d sight[2];
    for (const double side : {1.0, -1.0}) {
      SpectacleLens lens = Lens(diopters, 31 * side);
      lens.centre_mm.y() = -1.5;
      sight[side > 0] = AimThrough(lens, {31 * side, 0, -13.5}, {0, -20, depth});
    }
    return std::acos(sight[0].dot(sight[1])) / kRad;
  };
  EXPECT_NEAR(vergence(-5, 400), 7.652, 0.01);
  EXPECT_NEAR(vergence(-5, 80), 33.133, 0.01);
  EXPECT_NEAR(vergence(2.5, 65), 43.508, 0.01);
}

TEST(ProjectCircleThrough, PassesThroughEveryPointThatTheLensShows) {
  SpectacleLens lens;
  lens.centre_mm = {-31, 2, 58};
  lens.forward = Eigen::Vector3d(0.1, 0.05, -1).normalized();
  lens.power_per_mm = -0.006;
  lens.apex_rad = 0.02 * lens.forward.unitOrthogonal();
  const Eigen::Vector3d centre(-28, 4, 73);
  const Eigen::Vector3d normal = Eigen::Vector3d(0.35, -0.1, -0.9).normalized();
  const auto e = ProjectCircleThrough(lens, centre, normal, 5.85);
  ASSERT_TRUE(e);
  const Eigen::Vector3d u = normal.unitOrthogonal(), v = normal.cross(u);
  for (int k = 0; k < 36; ++k) {
    const double a = k * 10 * kRad;
    const Eigen::Vector3d p =
        SeenThrough(lens, centre + 5.85 * (std::cos(a) * u + std::sin(a) * v));
    const Eigen::Vector2d d = p.head<2>() / p.z() - e->centre;
    const double c = std::cos(e->angle_rad), s = std::sin(e->angle_rad);
    const double along = (c * d.x() + s * d.y()) / e->semi_major,
                 across = (-s * d.x() + c * d.y()) / e->semi_minor;
    EXPECT_NEAR(along * along + across * across, 1, 1e-9);
  }
}

}  // namespace
}  // namespace nearpoint
