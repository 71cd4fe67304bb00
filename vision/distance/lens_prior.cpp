#include "vision/distance/lens_prior.h"

#include <cmath>

namespace nearpoint {
namespace {

constexpr double Squared(double x) { return x * x; }

// Thickness and base curve change the size that is seen by half a per cent or so, as a third of a
// dioptre would.
constexpr double kShapeSd = 0.3;
// Optical centres stand where the optician put them: 1.5 mm to either side of the pupil is within
// what is tolerated and worn; as a rule they stand lower.
constexpr double kCentreOutSdMm = 1.5;
constexpr double kCentreUpMm = -2, kCentreUpSdMm = 2.5;
// A limbus is measured on arcs about the eye line, so a part of the other meridian counts.
constexpr double kCylinderShare = 0.15;
// A cylinder whose axis nobody knows: the spread of its power along the eye line over all axes.
constexpr double kAnyAxisShare = 0.35;
// An oblique cylinder turns light sideways that passes above or below its centre: radians for each
// dioptre, 5 mm off at 45 degrees.
constexpr double kObliqueRad = 0.0025;
// Near targets are seen through the addition or above it.
constexpr double kAdditionUsed = 0.5, kAdditionSd = 0.4;

struct Power {
  double mean, variance, prism, prism_variance;
};

Power PowerOf(const LensPrescription& lens, double addition, double addition_sd) {
  const double cylinder = lens.cylinder.value.value();
  Power out{};
  double cylinder_variance = Squared(kCylinderShare * cylinder);
  if (lens.axis) {
    out.mean = MeridianPower(lens.sphere.value.value(), cylinder, *lens.axis, Angle{});
  } else {
    out.mean = lens.sphere.value.value() + cylinder / 2;
    cylinder_variance = Squared(kAnyAxisShare * cylinder);
  }
  cylinder_variance += Squared(lens.cylinder.sd.value() / 2);
  out.mean += kAdditionUsed * addition;
  out.variance = Squared(lens.sphere.sd.value()) + cylinder_variance + Squared(kShapeSd) +
                 Squared(kAdditionSd * addition) + Squared(kAdditionUsed * addition_sd);
  out.prism = lens.base_out.value() / 100;
  out.prism_variance = Squared(lens.base_out_sd.value() / 100) + Squared(kObliqueRad * cylinder);
  return out;
}

}  // namespace

bool IsWorn(const std::optional<Glasses>& glasses) {
  return glasses && glasses->worn.value_or(false);
}

LensPrior LensPriorOf(const std::optional<Glasses>& glasses) {
  LensPrior prior;
  prior.mean.setZero();
  prior.covariance.setIdentity();
  prior.covariance *= Squared(kPinnedSd);
  constexpr int kLeft = kLeftLens - kLensFirst, kRight = kRightLens - kLensFirst;
  prior.mean(kVertex - kLensFirst) = 12;
  if (!IsWorn(glasses)) return prior;

  const auto set = [&](int index, double mean, double variance) {
    const int at = index - kLensFirst;
    prior.mean(at) = mean;
    prior.covariance(at, at) += variance;
  };
  set(kVertex, glasses->vertex.value.mm(), Squared(glasses->vertex.sd.mm()));
  set(kLensOut, 0, Squared(kCentreOutSdMm));
  set(kLensUp, kCentreUpMm, Squared(kCentreUpSdMm));
  const double addition = glasses->addition ? glasses->addition->value.value() : 0;
  const double addition_sd = glasses->addition ? glasses->addition->sd.value() : 0;
  for (const bool left : {true, false}) {
    const auto& lens = left ? glasses->left : glasses->right;
    if (!lens) continue;
    const Power power = PowerOf(*lens, addition, addition_sd);
    set(left ? kLeftLens : kRightLens, power.mean, power.variance);
    set(left ? kLeftPrism : kRightPrism, power.prism, power.prism_variance);
  }
  const double alike = Squared(kUnknownDifferenceSd.value());
  if (!glasses->left && !glasses->right) {
    const double common = Squared(kUnknownPowerSd.value());
    for (const int eye : {kLeft, kRight}) prior.covariance(eye, eye) += common + alike / 2;
    prior.covariance(kLeft, kRight) = prior.covariance(kRight, kLeft) = common;
  } else if (!glasses->left || !glasses->right) {
    const int known = glasses->left ? kLeft : kRight, other = glasses->left ? kRight : kLeft;
    prior.mean(other) = prior.mean(known);
    const double shared = prior.covariance(known, known);
    prior.covariance(other, other) = shared + alike;
    prior.covariance(kLeft, kRight) = prior.covariance(kRight, kLeft) = shared;
  }
  return prior;
}

}  // namespace nearpoint
