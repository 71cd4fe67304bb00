// Draws the patient as an ideal lens would show it: no blur, no noise.
#pragma once

#include <opencv2/core.hpp>

#include "vision/simulate/eyeball.h"
#include "vision/simulate/head_mesh.h"
#include "vision/simulate/head_shape.h"
#include "vision/simulate/overlays.h"
#include "vision/simulate/patient.h"
#include "vision/simulate/performance.h"
#include "vision/simulate/rasterizer.h"

namespace nearpoint::simulate {

// Where the lids stand when the patient looks as in `state`.
[[nodiscard]] Lids LidsOf(const PatientState& state);

class Renderer {
 public:
  explicit Renderer(const PatientOptions& options);

  // 8-bit BGR. gain multiplies the light (linear) before the picture is rounded to 8 bits.
  [[nodiscard]] cv::Mat Draw(const PatientState& state, double gain);
  // Everything about the eyes that the picture shows.
  [[nodiscard]] EyeTruth Truth(const PatientState& state, int eye) const;
  [[nodiscard]] const HeadShape& shape() const { return shape_; }

 private:
  void Transform(const PatientState& state, const Lighting& lighting, double gain);

  PatientOptions options_;
  HeadShape shape_;
  HeadMesh mesh_;
  std::vector<cv::Mat> skin_;  // halved again and again
  Eyeball eyeball_;
  Lashes lashes_;
  Glasses glasses_;
  cv::Mat room_, rays_;
  double largest_radius_;
  std::vector<ScreenVertex> screen_;
  std::vector<cv::Vec4f> light_;  // BGR square-root coded and gained, gloss
  SurfaceBuffer surface_;
};

// The room behind the patient in full light, square-root coded 8-bit BGR.
[[nodiscard]] cv::Mat PaintRoom(cv::Size size, std::uint64_t seed);

}  // namespace nearpoint::simulate
