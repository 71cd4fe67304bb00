#include "vision/tracking/seen_eyes.h"

#include <algorithm>
#include <cmath>

#include "vision/core/ellipse.h"

namespace nearpoint {
namespace {

// Costs (squared deviations of three residuals): from the first on it is asked whether an iris
// contradicts the rest, from the second it is looked for again where the rest expects it, beyond
// the third it is left out (1 in 100 by chance).
constexpr double kStrained = 4, kLookAgain = 6, kContradicts = 12;

// A pixel grid, coding and compression leave this much even at a perfect edge.
Eigen::Matrix3d WithPixelError(const LimbusFit& fit) {
  constexpr double kAcross = 0.05, kAlong = 0.10, kSize = 0.04;  // pixels
  return fit.covariance_px2 +
         Eigen::Matrix3d(
             Eigen::Vector3d(kAcross * kAcross, kAlong * kAlong, kSize * kSize).asDiagonal());
}

// The limbus was measured with the shape of an eye that looks where it is expected to. Where eyes
// may look far from there, the fit is told that it was a width. Eyes on the target are measured
// better without: a width leaves vergence and distance hard to tell apart (at 21 degrees of turn
// not at all), and more weight would go to the landmarks.
IrisMeasurement ToMeasurement(const Scene& scene, const LimbusFit& fit, double roll_rad) {
  IrisMeasurement iris{fit.ellipse.centre_px, fit.ellipse.semi_major_px, WithPixelError(fit)};
  if (!scene.nearest_gaze) return iris;
  iris.eye_line_rad = -roll_rad;
  iris.log_width = LogWidth(fit.ellipse.aspect, fit.ellipse.angle_rad, iris.eye_line_rad);
  iris.per_log_width = fit.per_log_width;
  return iris;
}

bool Believable(const LimbusFit& fit) {
  const double a = fit.ellipse.semi_major_px;
  return fit.residual_px < 0.05 * a + 0.4 && fit.left_points + fit.right_points >= 14;
}

LimbusOptions OptionsFor(double search, double size_search, double roll_rad) {
  LimbusOptions options;
  options.search = search;
  options.size_search = size_search;
  options.eye_line_rad = -roll_rad;
  return options;
}

std::optional<LimbusFit> FitAt(Channels& picture, const PredictedIris& guess,
                               const LimbusOptions& options) {
  return FitLimbus(picture.Grey(), picture.Bgr(),
                   {guess.centre_px, guess.semi_major_px, guess.aspect, guess.angle_rad}, options);
}

// A limbus far from where the eye was read to look is the edge of something else.
bool Confirms(const EyeReading& reading, const LimbusFit& fit) {
  constexpr double kDeviations = 4, kPlace = 0.15, kSize = 0.12;
  const double a = reading.iris_radius_px;
  // Lids hide how high the iris stands, so sideways tells more.
  const Eigen::Vector2d off = fit.ellipse.centre_px - reading.iris_px;
  return off.norm() < kDeviations * reading.place_sd_px + kPlace * a &&
         std::abs(std::log(fit.ellipse.semi_major_px / a)) <
             kDeviations * reading.size_relative_sd + kSize;
}

// The limbus from where the reading says it is, within the lids.
std::optional<LimbusFit> FitFromReading(Channels& picture, const EyeReading& reading,
                                        const PredictedIris& guess, double roll_rad) {
  constexpr double kSearch = 0.20, kSizeSearch = 0.16;
  PredictedIris from = guess;
  from.centre_px = reading.iris_px;
  from.semi_major_px = reading.iris_radius_px;
  LimbusOptions options = OptionsFor(kSearch, kSizeSearch, roll_rad);
  constexpr double kInNoise = 3.5;
  options.min_contrast_in_noise = kInNoise;
  const LidOpening lids(reading);
  options.lids = &lids;
  auto fit = FitAt(picture, from, options);
  if (fit && !(Believable(*fit) && Confirms(reading, *fit))) fit.reset();
  return fit;
}

// In a followed face an iris neither jumps nor changes its size from one frame to the next, and a
// lid's edge is fainter than the limbus was.
bool Continues(const LimbusFit& fit, const PredictedIris& guess, double search,
               double followed_contrast) {
  const double a = guess.semi_major_px;
  return std::abs(fit.ellipse.semi_major_px - a) < 0.5 * search * a + 0.6 &&
         std::abs(fit.ellipse.centre_px.x() - guess.centre_px.x()) < 0.5 * a &&
         std::abs(fit.ellipse.centre_px.y() - guess.centre_px.y()) < 0.5 * a &&
         fit.contrast > 0.55 * followed_contrast;
}

bool HasLandmarks(const HeadObservation& o) {
  return std::any_of(o.landmarks.begin(), o.landmarks.end(),
                     [](const auto& landmark) { return landmark.has_value(); });
}

// People read from the screen below the lens, or look away: then both eyes are turned alike, and
// fitting them as if they looked at the target would call one of them wrong. Only at the first look
// at a head: from frame to frame a reading is too unsteady to move what is expected. Only where a
// face is seen; near the camera nothing but the target keeps the eyes' turn and the head's apart.
std::optional<SeenEyes::Gaze> GazeBeside(const Scene& scene, const HeadPose& expected,
                                         const SeenEyes& seen) {
  constexpr double kFarMm = 240, kClearlyRad = 0.12, kMostRad = 0.6;
  if (scene.seen_before || expected.mid_in_camera_mm.z() < kFarMm || !seen.left_reading ||
      !seen.right_reading)
    return std::nullopt;
  SeenEyes::Gaze gaze;
  for (const bool left : {true, false}) {
    const EyeReading& reading = left ? *seen.left_reading : *seen.right_reading;
    const auto guess = PredictIris(expected, scene.model.mean, scene.profile.camera,
                                   scene.profile.target_mm, left);
    if (!guess || LidsOf(reading) != LidState::kOpen) return std::nullopt;
    const Eigen::Vector2d off = reading.iris_px - guess->centre_px;
    const double per_rad =
        kLimbusFromCentreMm * guess->semi_major_px / (scene.model.mean(kIris) / 2);
    const double c = std::cos(-expected.roll_rad), s = std::sin(-expected.roll_rad);
    // The picture's x runs to the patient's left.
    gaze.left_rad += ((c * off.x() + s * off.y()) / per_rad +
                      (left ? expected.left_out_rad : -expected.right_out_rad)) /
                     2;
    gaze.up_rad += (-(c * off.y() - s * off.x()) / per_rad +
                    (left ? expected.left_up_rad : expected.right_up_rad)) /
                   2;
  }
  if (std::hypot(gaze.left_rad, gaze.up_rad) < kClearlyRad) return std::nullopt;
  gaze.left_rad = std::clamp(gaze.left_rad, -kMostRad, kMostRad);
  gaze.up_rad = std::clamp(gaze.up_rad, -kMostRad, kMostRad);
  return gaze;
}

}  // namespace

LidState LidsOf(const EyeReading& reading) {
  // Judged, between what was read of labelled eyes of real people (tests/bench/data/real_eyes.csv):
  // 95 in 100 shut ones up to 0.18 of an iris, half closed ones 0.16 to 0.21 in the middle case, 95
  // in 100 open ones from 0.24 (right) and 0.53 (left). No command prints these shares;
  // nearpoint_bench_real prints what comes of the limits.
  constexpr double kShutBelow = 0.17, kOpenFrom = 0.26, kLeastLimbus = 0.12;
  constexpr double kShutLogit = -0.5;
  if (reading.present < kMayBeAnEye) return LidState::kNoEye;
  if (reading.open < kShutLogit || reading.aperture < kShutBelow) return LidState::kShut;
  if (reading.aperture < kOpenFrom || reading.limbus_seen < kLeastLimbus) return LidState::kHalf;
  return LidState::kOpen;
}

Eigen::Vector2d OpeningPx(const Scene& scene, const HeadPose& pose, bool left) {
  const PersonalVector& m = scene.model.mean;
  const double x = (m(kOuterWidth) + m(kInnerWidth)) / 4;
  const Eigen::Vector3d in_head(left ? x : -x, (m(kOuterHeight) + m(kInnerHeight)) / 2,
                                -(m(kOuterDepth) + m(kInnerDepth)) / 2);
  return ProjectPoint(scene.profile.camera, CameraFromHead(pose) * in_head + pose.mid_in_camera_mm);
}

void SeeIrises(const Scene& scene, Channels& picture, const HeadPose& expected, double search,
               const std::optional<FollowedIrises>& followed, SeenEyes* seen) {
  for (const bool left : {true, false}) {
    const auto guess = PredictIris(expected, scene.model.mean, scene.profile.camera,
                                   scene.profile.target_mm, left);
    if (!guess) continue;
    const double margin = 0.4 * guess->semi_major_px;
    if (guess->centre_px.x() < -margin || guess->centre_px.y() < -margin ||
        guess->centre_px.x() > scene.profile.camera.width + margin ||
        guess->centre_px.y() > scene.profile.camera.height + margin) {
      continue;
    }
    const auto fit_expected = [&]() -> std::optional<LimbusFit> {
      auto fit = FitAt(picture, *guess,
                       OptionsFor(search, followed ? 0.5 * search : search, expected.roll_rad));
      if (!fit || !Believable(*fit)) return std::nullopt;
      if (followed && !Continues(*fit, *guess, search, followed->contrast)) return std::nullopt;
      return fit;
    };
    std::optional<LimbusFit> fit;
    if (followed && (left ? followed->left_read : followed->right_read)) fit = fit_expected();
    if (!fit) {
      const EyeReading reading = scene.eyes.Read(picture.Bgr(), OpeningPx(scene, expected, left),
                                                 guess->semi_major_px, -expected.roll_rad, left);
      (left ? seen->left_reading : seen->right_reading) = reading;
      if (LidsOf(reading) != LidState::kOpen) continue;
      fit = fit_expected();
      if (fit && !Confirms(reading, *fit)) fit.reset();
      if (!fit) fit = FitFromReading(picture, reading, *guess, expected.roll_rad);
    }
    if (!fit) continue;
    (left ? seen->observation.left_iris : seen->observation.right_iris) =
        ToMeasurement(scene, *fit, expected.roll_rad);
    (left ? seen->left : seen->right) = fit;
  }
  if (!followed) seen->gaze = GazeBeside(scene, expected, *seen);
}

std::optional<HeadFit> FitReconciled(const Scene& scene, Channels& picture, PosePrior prior,
                                     SeenEyes* seen) {
  if (seen->gaze) {
    prior.gaze_left_rad = seen->gaze->left_rad;
    prior.gaze_up_rad = seen->gaze->up_rad;
  }
  auto fit =
      FitHead(seen->observation, scene.profile.camera, scene.profile.target_mm, scene.model, prior);
  if (!fit) return fit;
  if (!seen->left || !seen->right) {
    if (!HasLandmarks(seen->observation)) return fit;
    HeadObservation face = seen->observation;
    face.left_iris.reset();
    face.right_iris.reset();
    const auto rest =
        FitHead(face, scene.profile.camera, scene.profile.target_mm, scene.model, prior);
    if (rest && fit->cost - rest->cost > kContradicts) return std::nullopt;
    return fit;
  }
  const double strain = fit->cost - fit->chi2 + std::max(fit->left_iris_chi2, fit->right_iris_chi2);
  if (strain < kStrained) return fit;
  for (const bool again : {true, false}) {
    const auto without = [&](bool left) {
      HeadObservation rest = seen->observation;
      (left ? rest.left_iris : rest.right_iris).reset();
      return FitHead(rest, scene.profile.camera, scene.profile.target_mm, scene.model, prior);
    };
    const auto without_left = without(true), without_right = without(false);
    if (!without_left || !without_right) return fit;
    const bool left = without_left->cost < without_right->cost;
    const auto& rest = left ? without_left : without_right;
    if (fit->cost - rest->cost < (again ? kLookAgain : kContradicts)) return fit;
    auto& measurement = left ? seen->observation.left_iris : seen->observation.right_iris;
    auto& limbus = left ? seen->left : seen->right;
    measurement.reset();
    limbus.reset();
    fit = rest;
    if (!again) break;
    const auto guess = PredictIris(rest->pose, rest->personal, scene.profile.camera,
                                   scene.profile.target_mm, left);
    if (!guess) break;
    const auto better = FitAt(picture, *guess, OptionsFor(0.15, 0.04, rest->pose.roll_rad));
    if (!better || !Believable(*better)) break;
    limbus = better;
    measurement = ToMeasurement(scene, *better, rest->pose.roll_rad);
    fit = FitHead(seen->observation, scene.profile.camera, scene.profile.target_mm, scene.model,
                  prior);
    if (!fit) return std::nullopt;
  }
  return fit;
}

std::optional<HeadFit> Settle(const Scene& scene, Channels& picture, PosePrior prior, double search,
                              SeenEyes* seen) {
  auto fit =
      FitHead(seen->observation, scene.profile.camera, scene.profile.target_mm, scene.model, prior);
  if (fit) prior.mean = fit->pose;
  for (const double reach : {search, 0.12}) {
    SeenEyes exact;
    exact.landmarks = seen->landmarks;
    exact.left_reading = seen->left_reading;
    exact.right_reading = seen->right_reading;
    exact.observation.landmarks = seen->observation.landmarks;
    SeeIrises(scene, picture, prior.mean, reach, std::nullopt, &exact);
    *seen = exact;
    if (!seen->left && !seen->right) return std::nullopt;
    fit = FitReconciled(scene, picture, prior, seen);
    if (!fit) return std::nullopt;
    prior.mean = fit->pose;
  }
  return fit;
}

}  // namespace nearpoint
