#include "vision/tracking/learn_lenses.h"

#include <Eigen/Cholesky>
#include <cmath>

#include "vision/tracking/two_eyes.h"

namespace nearpoint {
namespace {

// The angle between visual and optical axis, and fixation disparity: as VarianceOf takes it.
constexpr double kFixatingSdRad = 0.05;
// Squared deviations that eyes on the target may cost: 1 in 20 by chance.
constexpr double kLooksElsewhere = 6;

}  // namespace

HeadFit FixatingFit(const Scene& scene, const HeadFit& fit, const HeadObservation& observation) {
  if (IsPinned(scene.model, kLeftLens) && IsPinned(scene.model, kRightLens)) return fit;
  PosePrior prior;
  prior.mean = fit.pose;
  const auto with = [&](const PosePrior& eyes) {
    return FitHead(observation, scene.profile.camera, scene.profile.target_mm, scene.model, eyes);
  };
  const auto free = with(prior);
  prior.eye_out_sd_rad = kFixatingSdRad;
  const auto fixating = with(prior);
  if (!free || !fixating) return fit;
  // Lenses that stand askew can take over a part of a turn, so the cost is asked and not the turn.
  return fixating->cost - free->cost < kLooksElsewhere ? *fixating : fit;
}

std::optional<HeadModel> Taught(const HeadModel& model, const HeadFit& fit, double share) {
  const PersonalMatrix posterior =
      fit.covariance.bottomRightCorner<kPersonalCount, kPersonalCount>();
  const PersonalMatrix before = model.covariance.ldlt().solve(PersonalMatrix::Identity());
  const PersonalMatrix after = posterior.ldlt().solve(PersonalMatrix::Identity());
  const PersonalMatrix information = before + share * (after - before);
  const PersonalVector weighted =
      (1 - share) * (before * model.mean) + share * (after * fit.personal);
  const PersonalMatrix covariance = information.ldlt().solve(PersonalMatrix::Identity());
  if (!covariance.allFinite()) return std::nullopt;
  HeadModel out;
  out.covariance = (covariance + covariance.transpose()) / 2;
  out.mean = out.covariance * weighted;
  return out;
}

}  // namespace nearpoint
