#include "vision/tracking/lens_watch.h"

#include <Eigen/Cholesky>
#include <cmath>

#include "vision/distance/eye_turn.h"
#include "vision/tracking/learn_lenses.h"

namespace nearpoint {
namespace {

constexpr double kWearsToRead = 1.0 / 3;
constexpr double kFixatingSdRad = 0.05;  // as FixatingFit takes it

Profile Wearing(Profile profile) {
  Glasses glasses = profile.face.glasses.value_or(Glasses{});
  glasses.worn = true;
  profile.face.glasses = glasses;
  return profile;
}

// Up to what both accounts share: the probability of the frame under this model, every state
// integrated out.
double LogEvidence(const HeadFit& fit, const HeadModel& model) {
  const auto log_determinant = [](const auto& matrix) {
    return matrix.ldlt().vectorD().array().max(1e-300).log().sum();
  };
  return -fit.cost / 2 + (log_determinant(fit.covariance) - log_determinant(model.covariance)) / 2;
}

}  // namespace

LensWatch::LensWatch(const Profile& profile)
    : profile_(Wearing(profile)),
      without_(MakeHeadModel(profile.face)),
      with_(MakeHeadModel(profile_.face)),
      log_odds_(std::log(kWearsToRead / (1 - kWearsToRead))) {}

LensDoubt LensWatch::Look(const HeadFit& fit, const HeadObservation& observation, double share) {
  PosePrior prior;
  prior.mean = fit.pose;
  // While it teaches, the eyes are on the target; else one may have drifted.
  if (share > 0) prior.eye_out_sd_rad = kFixatingSdRad;
  const auto look = [&](const HeadModel& model) {
    return FitHead(observation, profile_.camera, profile_.target_mm, model, prior);
  };
  const auto without = look(without_), with = look(with_);
  if (!without || !with) return {};
  LensDoubt doubt;
  // What is stated is that without lenses: its mean squared error, should there be some.
  const double worn = std::sqrt(probability());
  const auto distance = DistanceToTarget(*with, with_, profile_);
  const double apart =
      distance.value.mm() - (fit.pose.mid_in_camera_mm - profile_.target_mm).norm();
  doubt.distance = Length::Millimeters(worn * std::hypot(apart, distance.measured_sd.mm()));
  const Angle turned = EyeTurnsOf(*with, with_, profile_.target_mm).vergence -
                       EyeTurnsOf(fit, without_, profile_.target_mm).vergence;
  doubt.vergence = Angle::Radians(worn * std::abs(turned.rad()));
  if (share <= 0) return doubt;
  log_odds_ += share * (LogEvidence(*with, with_) - LogEvidence(*without, without_));
  if (const auto taught = Taught(with_, *with, share)) with_ = *taught;
  if (const auto taught = Taught(without_, *without, share)) without_ = *taught;
  return doubt;
}

HeadModel LensWatch::ModelAbout(double diopters) const {
  HeadModel about = with_;
  for (const int lens : {kLeftLens, kRightLens}) about.mean(lens) += diopters;
  return about;
}

double LensWatch::probability() const { return 1 / (1 + std::exp(-log_odds_)); }

}  // namespace nearpoint
