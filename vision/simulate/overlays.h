// What is drawn over the rendered skin as thin shapes: lashes and glasses. Pictures are linear
// light (light_scale.h).
#pragma once

#include <opencv2/core.hpp>

#include "vision/simulate/head_shape.h"
#include "vision/simulate/lighting.h"
#include "vision/simulate/performance.h"
#include "vision/simulate/spectacles_view.h"

namespace nearpoint::simulate {

struct OverlayView {
  const CameraIntrinsics& camera;
  const PatientState& state;
  float light;                        // on the face, gain included
  const cv::Mat& depth;               // CV_32F, mm from the lens; very far where nothing is
  const LensView* through = nullptr;  // what is drawn is seen through spectacles
};

class Lashes {
 public:
  Lashes(const HeadShape& shape, const Appearance& appearance);
  void Draw(const HeadShape& shape, const Lids& lids, const OverlayView& view,
            cv::Mat& picture) const;

 private:
  struct Lash {
    double along, length, lean, lift;
    bool upper;
  };
  std::vector<Lash> lashes_;
  cv::Vec3f reflectance_;
};

class Glasses {
 public:
  Glasses(const HeadShape& shape, const Appearance& appearance);
  // window: light of the mirrored window, gain included.
  void Draw(const OverlayView& view, float window, cv::Mat& picture) const;

 private:
  std::vector<Eigen::Vector3d> inner_, outer_;  // of the left lens; the right is its mirror image
  Eigen::Vector3d bridge_, hinge_, ear_;
  double bar_mm_;
  cv::Vec3f reflectance_;
};

}  // namespace nearpoint::simulate
