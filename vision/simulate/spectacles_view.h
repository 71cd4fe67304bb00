// Spectacles in a picture: what is seen through their lenses, what the lenses mirror, and the
// frame.
#pragma once

#include <Eigen/Core>
#include <array>
#include <opencv2/core.hpp>

#include "vision/simulate/performance.h"
#include "vision/simulate/spectacles.h"

namespace nearpoint::simulate {

// A head as it is seen through both of its lenses, as if they were endless.
struct LensView {
  std::array<LensBeforeEye, 2> lenses;  // kLeft, kRight
  Eigen::Vector3d camera;               // head frame

  LensView(const Spectacles& spectacles, double pd_mm, const PatientState& state);
  // Of a point in the head frame; each half of the face has its own lens.
  [[nodiscard]] Eigen::Vector3d Apparent(const Eigen::Vector3d& in_head) const;
  [[nodiscard]] LensBeforeEye::Ray Behind(int eye, const Eigen::Vector3d& direction) const;
};

struct SpectaclesScene {
  const CameraIntrinsics& camera;
  const PatientState& state;
  float light;   // on the face, gain included
  float window;  // light of the mirrored window, gain included
  float screen;  // of the screen under the lens
};

// picture += what is seen through the lenses inside their rims, what they mirror, and the frame.
// behind: the whole picture as LensView sees it. Linear light (light_scale.h).
void DrawSpectacles(const Spectacles& spectacles, const LensView& view,
                    const SpectaclesScene& scene, const cv::Mat& behind, cv::Mat& picture);

}  // namespace nearpoint::simulate
