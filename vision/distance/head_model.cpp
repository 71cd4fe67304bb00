#include "vision/distance/head_model.h"

#include "calibration/population.h"

namespace nearpoint {
namespace {

struct Prior {
  double mean, sd;
};

// How far the landmark model's idea of a width is from the anatomical one, constant in one person:
// on simulated patients each outer corner lies 2 to 6 pixels inward at 400 mm (1280 pixels, 65
// degrees), 0.8 to 2.4 mm; inner corners half that.
constexpr double kOuterLandmarkSdMm = 2.2;
constexpr double kInnerLandmarkSdMm = 1.5;

Prior Of(const std::optional<UncertainLength>& length) {
  return {length->value.mm(), length->sd.mm()};
}

}  // namespace

HeadModel MakeHeadModel(const FaceScale& measured) {
  const FaceScale face = WithPopulation(measured);
  HeadModel model;
  model.mean.setZero();
  model.covariance.setZero();
  const auto set = [&](int index, Prior prior, double landmark_sd) {
    model.mean(index) = prior.mean;
    model.covariance(index, index) = prior.sd * prior.sd + landmark_sd * landmark_sd;
  };
  const Prior pd = Of(face.distance_pd);
  set(kIris, Of(face.iris), 0);
  set(kPd, pd, 0);
  set(kOuterWidth, Of(face.outer_corners), kOuterLandmarkSdMm);
  set(kInnerWidth, Of(face.inner_corners), kInnerLandmarkSdMm);
  set(kOuterDepth, Of(face.outer_corner_depth), 1.0);
  set(kInnerDepth, Of(face.inner_corner_depth), 1.0);
  // Heights and the nose: common proportions of a face, no source; wide enough to be learned from
  // the pictures.
  const double size = pd.mean / 62;
  set(kOuterHeight, {-1.5 * size, 2.0}, 0);
  set(kInnerHeight, {-3.0 * size, 2.0}, 0);
  // The bridge runs forward and down in a line. Noses differ in how far they do, all points
  // together, the tip most.
  constexpr double kHeight[4] = {2, -9, -20, -31}, kForward[4] = {8, 14, 20, 26};
  constexpr double kPointSd = 1.5, kHeightSd = 4, kForwardSd = 6;
  for (int i = 0; i < 4; ++i) {
    set(kBridge0Height + 2 * i, {kHeight[i] * size, kPointSd}, 0);
    set(kBridge0Depth + 2 * i, {-kForward[i] * size, kPointSd}, 0);
    for (int k = 0; k < 4; ++k) {
      const double together = (i + 1) * (k + 1) / 16.0;
      model.covariance(kBridge0Height + 2 * i, kBridge0Height + 2 * k) +=
          together * kHeightSd * kHeightSd;
      model.covariance(kBridge0Depth + 2 * i, kBridge0Depth + 2 * k) +=
          together * kForwardSd * kForwardSd;
    }
  }
  return model;
}

Eigen::Vector3d LandmarkInHeadMm(const PersonalVector& p, int index) {
  switch (index) {
    case 0:
      return {-p(kOuterWidth) / 2, p(kOuterHeight), -p(kOuterDepth)};
    case 1:
      return {-p(kInnerWidth) / 2, p(kInnerHeight), -p(kInnerDepth)};
    case 2:
      return {p(kInnerWidth) / 2, p(kInnerHeight), -p(kInnerDepth)};
    case 3:
      return {p(kOuterWidth) / 2, p(kOuterHeight), -p(kOuterDepth)};
    default: {
      const int at = kBridge0Height + 2 * (index - 4);
      return {0, p(at), -p(at + 1)};
    }
  }
}

}  // namespace nearpoint
