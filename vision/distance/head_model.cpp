#include "vision/distance/head_model.h"

#include "calibration/population.h"
#include "vision/distance/lens_prior.h"

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

// A symmetric face whose lengths were measured through its lenses: what they truly are.
PersonalVector FreedOfLenses(const PersonalVector& seen) {
  PersonalVector is = seen;
  PersonalVector both = seen;
  both(kLeftLens) = (seen(kLeftLens) + seen(kRightLens)) / 2;
  both(kLeftPrism) = 0;
  const SpectacleLens lens = LensOf(both, true);
  is(kIris) = seen(kIris) / SizeThroughLens(both(kLeftLens), seen(kVertex) + kLimbusDepthMm);
  const auto corner = [&](int width, int height, int depth) {
    const Eigen::Vector3d at = TrueFromSeen(lens, {seen(width) / 2, seen(height), -seen(depth)});
    is(width) = 2 * at.x();
    is(depth) = -at.z();
  };
  corner(kOuterWidth, kOuterHeight, kOuterDepth);
  corner(kInnerWidth, kInnerHeight, kInnerDepth);
  return is;
}

void FreeOfLenses(HeadModel* model) {
  PersonalMatrix jacobian;
  const PersonalVector at = FreedOfLenses(model->mean);
  for (int k = 0; k < kPersonalCount; ++k) {
    constexpr double kStep = 1e-4;
    PersonalVector moved = model->mean;
    moved(k) += kStep;
    jacobian.col(k) = (FreedOfLenses(moved) - at) / kStep;
  }
  model->mean = at;
  model->covariance = jacobian * model->covariance * jacobian.transpose();
}

void SetLenses(const LensPrior& prior, HeadModel* model) {
  model->mean.segment<kLensCount>(kLensFirst) = prior.mean;
  model->covariance.block<kLensCount, kPersonalCount>(kLensFirst, 0).setZero();
  model->covariance.block<kPersonalCount, kLensCount>(0, kLensFirst).setZero();
  model->covariance.block<kLensCount, kLensCount>(kLensFirst, kLensFirst) = prior.covariance;
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
  const LensPrior worn = LensPriorOf(face.glasses);
  if (face.measured_with_glasses.value_or(false)) {
    // Those of the day of the scale: what is known of the glasses, worn now or not.
    Glasses then = face.glasses.value_or(Glasses{});
    then.worn = true;
    SetLenses(LensPriorOf(then), &model);
    FreeOfLenses(&model);
    if (!IsWorn(face.glasses)) SetLenses(worn, &model);
  } else {
    SetLenses(worn, &model);
  }
  return model;
}

SpectacleLens LensOf(const PersonalVector& p, bool left) {
  const double side = left ? 1 : -1;
  SpectacleLens lens;
  lens.centre_mm = {side * (p(kPd) / 2 + p(kLensOut)), p(kLensUp), p(kVertex)};
  lens.power_per_mm = 1e-3 * p(left ? kLeftLens : kRightLens);
  // Base out: the apex is at the nose.
  lens.apex_rad = {-side * p(left ? kLeftPrism : kRightPrism), 0, 0};
  return lens;
}

Eigen::Vector3d LandmarkInHeadMm(const PersonalVector& p, int index) {
  const auto corner = [&](double side, int width, int height, int depth) -> Eigen::Vector3d {
    const Eigen::Vector3d at(side * p(width) / 2, p(height), -p(depth));
    const SpectacleLens lens = LensOf(p, side > 0);
    return lens.IsPlain() ? at : SeenThrough(lens, at);
  };
  switch (index) {
    case 0:
      return corner(-1, kOuterWidth, kOuterHeight, kOuterDepth);
    case 1:
      return corner(-1, kInnerWidth, kInnerHeight, kInnerDepth);
    case 2:
      return corner(1, kInnerWidth, kInnerHeight, kInnerDepth);
    case 3:
      return corner(1, kOuterWidth, kOuterHeight, kOuterDepth);
    default: {
      const int at = kBridge0Height + 2 * (index - 4);
      return {0, p(at), -p(at + 1)};
    }
  }
}

}  // namespace nearpoint
