// From points in the camera frame to pixels and back, with the lens distortion of the profile.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>

#include "calibration/profile.h"

namespace nearpoint::simulate {

// Pixel of a point; z must be positive. Distortion as in OpenCV's calibration: radial k1, k2, k3
// and tangential p1, p2 on normalised coordinates (Brown 1966).
[[nodiscard]] Eigen::Vector2d Project(const CameraIntrinsics& camera,
                                      const Eigen::Vector3d& in_camera_mm);

// The normalised undistorted direction (x/z, y/z) of a pixel.
[[nodiscard]] Eigen::Vector2d Unproject(const CameraIntrinsics& camera, const Eigen::Vector2d& px);

// Unproject for every pixel: CV_32FC2.
[[nodiscard]] cv::Mat RayTable(const CameraIntrinsics& camera);

// Largest undistorted radius (x/z, y/z) that a triangle may reach: beyond it the polynomial may
// fold back.
[[nodiscard]] double LargestRadius(const CameraIntrinsics& camera);

// Ellipse of a projected circle. Without distortion it is exact; with distortion the image of a
// circle is no ellipse and this is the least-squares ellipse of its points.
struct ProjectedEllipse {
  Eigen::Vector2d centre_px;
  double major_px = 0;  // full lengths
  double minor_px = 0;
};
[[nodiscard]] ProjectedEllipse ProjectCircle(const CameraIntrinsics& camera,
                                             const Eigen::Vector3d& centre_in_camera_mm,
                                             const Eigen::Vector3d& unit_normal, double radius_mm);

}  // namespace nearpoint::simulate
