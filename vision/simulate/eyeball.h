// The eyes of one patient, evaluated per ray: white, iris, pupil and what the cornea mirrors.
//
// The limbus is a circle of the visible iris radius, 10.86 mm in front of the centre of rotation.
// Rays are cut with its plane, so the drawn edge is exact wherever the ray table is: its transition
// is half way exactly on the circle.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>

#include "vision/simulate/lighting.h"
#include "vision/simulate/patient.h"

namespace nearpoint::simulate {

// One eye in one frame, head frame.
struct EyePose {
  Eigen::Vector3f centre_mm;
  Eigen::Vector3f gaze;    // unit
  Eigen::Vector3f across;  // unit, horizontal in the iris
  Eigen::Vector3f up;      // unit
};
[[nodiscard]] EyePose MakeEyePose(const Eigen::Vector3d& centre_in_head_mm,
                                  const Eigen::Vector3d& gaze_in_head);

// What the cornea mirrors, in the head frame.
struct MirrorScene {
  Eigen::Matrix3f camera_from_head;
  Eigen::Vector3f eye_mid_in_camera_mm;
  float window = 1;  // brightness in display steps of 1
  float screen = 1;
};

class Eyeball {
 public:
  explicit Eyeball(const Appearance& appearance);

  // Display colour (BGR, 0..1, square-root coded) along a unit ray from `origin`; `soft_mm` is the
  // footprint of a pixel. white_light and iris_light: square-root coded light on the two.
  [[nodiscard]] cv::Vec3f Look(const EyePose& eye, const Eigen::Vector3f& origin,
                               const Eigen::Vector3f& ray, float soft_mm,
                               const cv::Vec3f& white_light, const cv::Vec3f& iris_light,
                               const MirrorScene& scene) const;
  [[nodiscard]] float iris_radius() const { return radius_; }
  [[nodiscard]] float transition_mm() const { return transition_; }

 private:
  [[nodiscard]] cv::Vec3f IrisColour(float angle, float relative_radius) const;
  [[nodiscard]] cv::Vec3f WhiteColour(const Eigen::Vector3f& on_ball_in_eye) const;

  float radius_, ball_radius_, pupil_radius_, transition_;
  cv::Mat iris_;   // CV_32FC3, rows: radius, columns: angle
  cv::Mat white_;  // CV_32FC3, rows: up, columns: across
};

}  // namespace nearpoint::simulate
