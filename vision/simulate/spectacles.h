// Spectacles of the simulated patient: thin lenses that turn each ray at the point where it passes,
// in a frame. Base curve and thickness are left out: real lenses show the eye up to 1 % larger.
#pragma once

#include <Eigen/Core>
#include <array>

#include "vision/core/units.h"

namespace nearpoint::simulate {

// One lens as a prescription states it: dioptres; axis by ISO 8429; prism dioptres base out.
struct LensPower {
  double sphere = 0;
  double cylinder = 0;
  Angle axis;
  double base_out = 0;
};

struct Spectacles {
  LensPower left, right;
  double addition = 0;  // dioptres, for reading, low in the lens
  Length vertex = Length::Millimeters(12);
  Length outward;  // of each optical centre from straight ahead
  Length upward = Length::Millimeters(-1.5);
  Angle tilt;  // lower rim toward the cheeks
  Length half_width = Length::Millimeters(25);
  Length half_height = Length::Millimeters(19);
  Length rim = Length::Millimeters(2.2);  // 0: rimless
  double mirrors = 0.01;                  // of the light: 0.01 coated, 0.08 plain
};

// A lens before one eye of a head, head frame. Its law: a ray that passes at x is turned by
// F (x - C) toward the axis, and by the prism toward its base.
class LensBeforeEye {
 public:
  LensBeforeEye(const Spectacles& spectacles, double pd_mm, double side);

  // Where a ray between two points on opposite sides passes the lens plane.
  [[nodiscard]] Eigen::Vector3d Crossing(const Eigen::Vector3d& a, const Eigen::Vector3d& b) const;
  // Unit direction in which an eye about this centre sees a target.
  [[nodiscard]] Eigen::Vector3d Aim(const Eigen::Vector3d& eye,
                                    const Eigen::Vector3d& target) const;
  // Where a camera sees a point behind the lens; what is not behind it, or far behind, stays.
  [[nodiscard]] Eigen::Vector3d Apparent(const Eigen::Vector3d& camera,
                                         const Eigen::Vector3d& point) const;
  // A ray from the camera after the lens, going on toward the eye.
  struct Ray {
    Eigen::Vector3d origin, direction;
  };
  [[nodiscard]] Ray Behind(const Eigen::Vector3d& camera, const Eigen::Vector3d& direction) const;

  // A point of the lens plane, millimetres to the patient's left and up from the centre.
  [[nodiscard]] Eigen::Vector3d At(double x, double y) const;
  [[nodiscard]] const Eigen::Vector3d& normal() const { return normal_; }

 private:
  // Turn of a ray at a point of the plane: matrix of power, and the turn where it is zero.
  struct Local {
    Eigen::Matrix2d power;
    Eigen::Vector2d offset;
  };
  [[nodiscard]] Local AtPlane(const Eigen::Vector2d& x) const;
  [[nodiscard]] Eigen::Vector2d InPlane(const Eigen::Vector3d& p) const;
  [[nodiscard]] double Before(const Eigen::Vector3d& p) const;  // the plane; negative: behind

  Eigen::Vector3d centre_, normal_, across_, up_;
  Eigen::Matrix2d power_;      // 1/mm
  Eigen::Vector2d apex_;       // radians
  double addition_;            // 1/mm
  Eigen::Vector2d near_zone_;  // its centre
  double mean_power_;
};

// Index 0: left, 1: right.
[[nodiscard]] std::array<LensBeforeEye, 2> LensesOf(const Spectacles& spectacles, double pd_mm);

}  // namespace nearpoint::simulate
