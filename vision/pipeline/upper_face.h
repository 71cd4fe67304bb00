// Brows and forehead as the mark of where a head is: registered against a key picture, so errors do
// not add up. Eyes, lids and what a hand does below them play no part.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "calibration/profile.h"

namespace nearpoint {

// How a head has moved since the key picture.
struct UpperFaceMotion {
  // The corneal midpoint now, in units of its depth in the key picture: camera axes.
  Eigen::Vector3d mid_in_key_depths{0, 0, 1};
  Eigen::Vector3d turn{0, 0, 0};  // rotation vector about the camera's axes, radians
  double depth_sd = 0;            // relative, from what the points scatter
  int points = 0;
};

class UpperFace {
 public:
  // grey: CV_8UC1. The eyes in it say where the brows are; mid_mm is the corneal midpoint as far as
  // known (camera frame; a per cent of error in it does no harm), facing about the lens. The
  // forehead is taken for a cylinder: a plane would turn a yaw of one degree into 0.3 % of depth.
  // nullopt with too little texture, or too much of it outside the picture.
  [[nodiscard]] static std::optional<UpperFace> FromKey(const cv::Mat& grey,
                                                        const CameraIntrinsics& camera,
                                                        const Eigen::Vector3d& mid_mm,
                                                        const Eigen::Vector2d& left_eye_px,
                                                        const Eigen::Vector2d& right_eye_px);

  // expected: of the picture before, or nothing: then as in the key picture. turn_sd_rad: how far
  // the head may have turned since. nullopt when fewer than half of the points are found again.
  [[nodiscard]] std::optional<UpperFaceMotion> Find(const cv::Mat& grey,
                                                    const std::optional<UpperFaceMotion>& expected,
                                                    double turn_sd_rad) const;

  // Takes a later picture of the head into the key: the mean of several pictures, each laid on the
  // first by its motion, has less noise than one, and its marks are marks of the skin even where
  // one dark picture shows more noise than skin. motion: of this picture by Find. Nothing happens
  // once there are enough pictures, or where few of the points were found again.
  void Deepen(const cv::Mat& grey, const UpperFaceMotion& motion);

  // What is looked at of each picture.
  [[nodiscard]] const cv::Rect& region() const { return region_; }

 private:
  // Marks points on the key; false with too few.
  bool Mark();
  [[nodiscard]] UpperFaceMotion AtRest() const;
  [[nodiscard]] Eigen::Vector2d Image(const UpperFaceMotion& motion, std::size_t point) const;

  CameraIntrinsics camera_;
  Eigen::Vector3d key_mid_mm_;
  double key_depth_mm_ = 0;
  cv::Rect region_;                           // of the picture that is looked at
  std::vector<cv::Point> outline_;            // of the upper face, in the region
  cv::Mat sum_;                               // CV_32F: light of the region in `pictures_` pictures
  int pictures_ = 1;                          // laid on one another
  cv::Mat key_;                               // texture of their mean
  std::vector<cv::Point2f> points_;           // in the region
  std::vector<Eigen::Vector3d> from_mid_mm_;  // of the same points, camera axes
};

}  // namespace nearpoint
