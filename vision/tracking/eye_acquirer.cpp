#include "vision/tracking/eye_acquirer.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "vision/eyes/eye_finder.h"
#include "vision/tracking/two_eyes.h"

namespace nearpoint {
namespace {

// Pixels: the picture is reduced to this for the search of a whole face.
constexpr double kSearchWidth = 320;

// Deviation of one landmark in the picture: about twice the scatter of the corners (1.1 % of the
// distance between the outer corners), since errors of one picture's landmarks are alike and nine
// of them tell less than nine. Nearer, perspective makes the face unlike the portraits that the
// model was trained on, and the landmarks make the head seem to nod.
double LandmarkSd(double outer_px, double distance_mm) {
  const double near = 260 / distance_mm;
  return 0.022 * outer_px * (1 + near * near * near * near);
}

}  // namespace

EyeAcquirer::EyeAcquirer(FaceFinder finder, std::optional<EyeRegionDetector> eye_regions)
    : finder_(std::move(finder)), eye_regions_(std::move(eye_regions)) {}

FaceBox EyeAcquirer::BoxFrom(const Landmarks& landmarks) const {
  return finder_.BoxFrom(landmarks);
}

void EyeAcquirer::SeeLandmarks(const Scene& scene, Channels& picture, const FaceBox& box,
                               double depth_mm, SeenEyes* seen) {
  ++counters_.landmark_fits;
  const Landmarks landmarks = finder_.Fit(picture.Grey(), box);
  const double outer_px = (landmarks[36] - landmarks[45]).norm();
  const double sd = LandmarkSd(outer_px, depth_mm);
  for (std::size_t i = 0; i < kRigidLandmarks.size(); ++i) {
    const Eigen::Vector2d& p = landmarks[static_cast<std::size_t>(kRigidLandmarks[i])];
    if (p.x() < 0 || p.y() < 0 || p.x() >= scene.profile.camera.width ||
        p.y() >= scene.profile.camera.height)
      continue;
    seen->observation.landmarks[i] = LandmarkMeasurement{p, i < 4 ? sd : 1.3 * sd};
  }
  seen->landmarks = landmarks;
}

std::optional<HeadFit> EyeAcquirer::ByFace(const Scene& scene, Channels& picture, bool careful,
                                           SeenEyes* seen) {
  ++counters_.face_searches;
  const double reduction = std::max(1.0, scene.profile.camera.width / kSearchWidth);
  auto box = finder_.Detect(picture.Grey(), reduction);
  // A face that fits badly between two sizes of the coarse search is found in the finer one, four
  // times as slow.
  if (!box && reduction >= 2 && careful) box = finder_.Detect(picture.Grey(), reduction / 2);
  if (!box) return std::nullopt;
  const double outer_mm = scene.model.mean(kOuterWidth);
  SeeLandmarks(scene, picture, *box, 400, seen);
  const double depth =
      scene.profile.camera.fx * outer_mm / ((*seen->landmarks)[36] - (*seen->landmarks)[45]).norm();
  *seen = SeenEyes{};
  SeeLandmarks(scene, picture, *box, depth, seen);
  PosePrior prior = AnyPose(scene);
  const auto& p36 = (*seen->landmarks)[36];
  const auto& p45 = (*seen->landmarks)[45];
  const Eigen::Vector2d mid = (p36 + p45) / 2;
  prior.mean.mid_in_camera_mm = {
      (mid.x() - scene.profile.camera.cx) / scene.profile.camera.fx * depth,
      (mid.y() - scene.profile.camera.cy) / scene.profile.camera.fy * depth, depth};
  prior.mean.roll_rad = -std::atan2(p45.y() - p36.y(), p45.x() - p36.x());
  auto fit = Settle(scene, picture, prior, 0.40, seen);
  // Near by, landmarks are too coarse to refute what was taken for irises.
  if (fit && std::min(depth, fit->pose.mid_in_camera_mm.z()) < kFaceTellsBeyondMm &&
      !(seen->Both() && OnOneTarget(scene, *fit) && LooksLikeAFace(*fit, *seen, picture.Bgr()))) {
    return std::nullopt;
  }
  return fit;
}

std::optional<HeadFit> EyeAcquirer::ByEyes(const Scene& scene, Channels& picture,
                                           const std::optional<SeenBefore>& before,
                                           SeenEyes* seen) {
  ++counters_.eye_searches;
  if (auto fit = ByRegions(scene, picture, before, seen)) return fit;
  std::optional<HeadFit> best;
  for (const IrisPair& pair : FindIrisPairs(picture.Whiteness(), {})) {
    SeenEyes rough;
    const auto coarse = [](const IrisCandidate& c) {
      const double sd = c.radius_px / 6;
      return IrisMeasurement{c.centre_px, c.radius_px,
                             Eigen::Vector3d(sd * sd, sd * sd, sd * sd).asDiagonal()};
    };
    rough.observation.right_iris = coarse(pair.image_left);
    rough.observation.left_iris = coarse(pair.image_right);
    const double depth = scene.profile.camera.fx * scene.model.mean(kIris) /
                         (pair.image_left.radius_px + pair.image_right.radius_px);
    const PosePrior prior =
        PriorFromEyes(scene, pair.image_left.centre_px, pair.image_right.centre_px, depth, before);
    const auto fit = Settle(scene, picture, prior, 0.25, &rough);
    if (!fit || !rough.Both() || !LooksLikeAFace(*fit, rough, picture.Bgr())) continue;
    if (!best || fit->chi2 < best->chi2) {
      best = fit;
      *seen = rough;
    }
  }
  return best;
}

// The lids' openings, found by their looks; their distance from each other on the face says how
// near it is.
std::optional<HeadFit> EyeAcquirer::ByRegions(const Scene& scene, Channels& picture,
                                              const std::optional<SeenBefore>& before,
                                              SeenEyes* seen) const {
  if (!eye_regions_) return std::nullopt;
  const auto regions = eye_regions_->Detect(picture.Grey());
  if (regions.size() != 2) return std::nullopt;
  const bool first_is_left = regions[0].centre_px.x() < regions[1].centre_px.x();
  const Eigen::Vector2d left = regions[first_is_left ? 0 : 1].centre_px;
  const Eigen::Vector2d right = regions[first_is_left ? 1 : 0].centre_px;
  const double apart_mm = (scene.model.mean(kOuterWidth) + scene.model.mean(kInnerWidth)) / 2;
  const double behind_mm = (scene.model.mean(kOuterDepth) + scene.model.mean(kInnerDepth)) / 2;
  const double depth = scene.profile.camera.fx * apart_mm / (right - left).norm() - behind_mm;
  if (depth < 20) return std::nullopt;
  SeenEyes found;
  auto fit = Settle(scene, picture, PriorFromEyes(scene, left, right, depth, before), 0.30, &found);
  if (!fit || !found.Both() || !LooksLikeAFace(*fit, found, picture.Bgr())) return std::nullopt;
  *seen = found;
  return fit;
}

}  // namespace nearpoint
