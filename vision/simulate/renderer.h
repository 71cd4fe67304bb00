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
#include "vision/simulate/spectacles_view.h"

namespace nearpoint::simulate {

// Where the lids stand when the patient looks as in `state`.
[[nodiscard]] Lids LidsOf(const PatientState& state);

class Renderer {
 public:
  explicit Renderer(const PatientOptions& options);

  // Fills `picture` with the light of each pixel times gain, CV_16UC3 as light_scale.h says.
  void Draw(const PatientState& state, double gain, cv::Mat& picture);
  // Everything about the eyes that the picture shows.
  [[nodiscard]] EyeTruth Truth(const PatientState& state, int eye) const;
  [[nodiscard]] const HeadShape& shape() const { return shape_; }
  [[nodiscard]] const Eyeball& eyeball() const { return eyeball_; }

 private:
  // through: the head as it is seen through spectacles; null without.
  void Transform(const PatientState& state, const Lighting& lighting, double gain,
                 const LensView* through);
  void DrawHead(const PatientState& state, double gain, const LensView* through, cv::Mat& picture);

  PatientOptions options_;
  HeadShape shape_;
  HeadMesh mesh_;
  std::vector<cv::Mat> skin_;  // halved again and again
  Eyeball eyeball_;
  Lashes lashes_;
  Glasses glasses_;
  cv::Mat room_, rays_;
  cv::Mat behind_lenses_;
  double largest_radius_;
  std::vector<ScreenVertex> screen_;
  std::vector<cv::Vec4f> light_;  // gained: BGR in picture steps a texture step, gloss in steps
  SurfaceBuffer surface_;
};

// The room behind the patient in full light, 8-bit sRGB codes (BGR).
[[nodiscard]] cv::Mat PaintRoom(cv::Size size, std::uint64_t seed);

}  // namespace nearpoint::simulate
