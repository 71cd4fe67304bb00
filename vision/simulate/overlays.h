// What is drawn over the rendered skin as thin shapes: lashes and glasses.
#pragma once

#include <opencv2/core.hpp>

#include "vision/simulate/head_shape.h"
#include "vision/simulate/lighting.h"
#include "vision/simulate/performance.h"

namespace nearpoint::simulate {

struct OverlayView {
  const CameraIntrinsics& camera;
  const PatientState& state;
  float light;           // square-root coded light on the face, gain included
  const cv::Mat& depth;  // CV_32F, mm from the lens; 0 where nothing is
};

class Lashes {
 public:
  Lashes(const HeadShape& shape, const Appearance& appearance);
  void Draw(const HeadShape& shape, const Lids& lids, const OverlayView& view, cv::Mat& bgr) const;

 private:
  struct Lash {
    double along, length, lean, lift;
    bool upper;
  };
  std::vector<Lash> lashes_;
  cv::Vec3f colour_;
};

class Glasses {
 public:
  Glasses(const HeadShape& shape, const Appearance& appearance);
  // window: brightness of the mirrored window, display steps of 1.
  void Draw(const OverlayView& view, float window, cv::Mat& bgr) const;

 private:
  std::vector<Eigen::Vector3d> inner_, outer_;  // of the left lens; the right is its mirror image
  Eigen::Vector3d bridge_, hinge_, ear_;
  double bar_mm_;
  cv::Vec3f colour_;
};

}  // namespace nearpoint::simulate
