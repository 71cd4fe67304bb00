#include "vision/distance/head_model.h"

#include "calibration/population.h"

namespace nearpoint {
namespace {

struct Prior {
  double mean, sd;
};

// How far the landmark model's idea of a corner is from the anatomical one, constant in one person. Median errors of 1.4
// to 3.5 pixels at 250 mm and beyond (1280 pixels wide, 65 degrees) amount to about this.
constexpr double kLandmarkBiasMm = 1.3;

Prior Of(const std::optional<UncertainLength>& length) { return {length->value.mm(), length->sd.mm()}; }

}  // namespace

HeadModel MakeHeadModel(const FaceScale& measured) {
  const FaceScale face = WithPopulation(measured);
  HeadModel model;
  model.mean.setZero();
  model.covariance.setZero();
  const auto set = [&](int index, Prior prior, double landmark_sd) {
    model.mean(index) = prior.mean;
    model.profile_variance(index) = prior.sd * prior.sd;
    model.initial_variance(index) = prior.sd * prior.sd + landmark_sd * landmark_sd;
    model.covariance(index, index) = model.initial_variance(index);
  };
  const Prior pd = Of(face.distance_pd);
  set(kIris, Of(face.iris), 0);
  set(kPd, pd, 0);
  set(kOuterWidth, Of(face.outer_corners), kLandmarkBiasMm);
  set(kInnerWidth, Of(face.inner_corners), kLandmarkBiasMm);
  set(kOuterDepth, Of(face.outer_corner_depth), 1.0);
  set(kInnerDepth, Of(face.inner_corner_depth), 1.0);
  // Heights and the nose: common proportions of a face, no source; wide enough to be learned from the pictures.
  const double size = pd.mean / 62;
  set(kOuterHeight, {-1.0 * size, 2.0}, 0);
  set(kInnerHeight, {-2.5 * size, 2.0}, 0);
  constexpr Prior kBridge[8] = {{4, 4}, {-7, 4}, {-5, 4}, {-12, 4}, {-14, 4}, {-18, 4}, {-23, 5}, {-24, 5}};
  for (int i = 0; i < 8; ++i) set(kBridge0Height + i, {kBridge[i].mean * size, kBridge[i].sd}, 0);
  return model;
}

Eigen::Vector3d LandmarkInHeadMm(const PersonalVector& p, int index) {
  switch (index) {
    case 0: return {-p(kOuterWidth) / 2, p(kOuterHeight), -p(kOuterDepth)};
    case 1: return {-p(kInnerWidth) / 2, p(kInnerHeight), -p(kInnerDepth)};
    case 2: return {p(kInnerWidth) / 2, p(kInnerHeight), -p(kInnerDepth)};
    case 3: return {p(kOuterWidth) / 2, p(kOuterHeight), -p(kOuterDepth)};
    default: {
      const int at = kBridge0Height + 2 * (index - 4);
      return {0, p(at), -p(at + 1)};
    }
  }
}

}  // namespace nearpoint
