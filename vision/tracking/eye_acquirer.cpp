#include "vision/tracking/eye_acquirer.h"

#include <algorithm>
#include <cmath>
#include <utility>

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

EyeAcquirer::EyeAcquirer(FaceFinder finder) : finder_(std::move(finder)) {}

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
                                           SeenEyes* seen, bool* box_seen) {
  *box_seen = false;
  ++counters_.face_searches;
  const double reduction = std::max(1.0, scene.profile.camera.width / kSearchWidth);
  auto box = finder_.Detect(picture.Grey(), reduction);
  // A face that fits badly between two sizes of the coarse search is found in the finer one, four
  // times as slow.
  if (!box && careful && reduction > 1)
    box = finder_.Detect(picture.Grey(), std::max(1.0, reduction / 2));
  if (!box) return std::nullopt;
  *box_seen = true;
  return InBox(scene, picture, *box, seen);
}

std::optional<HeadFit> EyeAcquirer::InBox(const Scene& scene, Channels& picture, const FaceBox& box,
                                          SeenEyes* seen) {
  const double outer_mm = scene.model.mean(kOuterWidth);
  *seen = SeenEyes{};
  SeeLandmarks(scene, picture, box, 400, seen);
  const double depth =
      scene.profile.camera.fx * outer_mm / ((*seen->landmarks)[36] - (*seen->landmarks)[45]).norm();
  *seen = SeenEyes{};
  SeeLandmarks(scene, picture, box, depth, seen);
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
      !(seen->Both() && OnOneTarget(scene, *fit) && LooksLikeAFace(*fit, *seen))) {
    return std::nullopt;
  }
  return fit;
}

std::optional<HeadFit> EyeAcquirer::ByEyes(const Scene& scene, Channels& picture,
                                           const std::optional<SeenBefore>& before,
                                           SeenEyes* seen) {
  ++counters_.eye_searches;
  for (const FoundPair& pair : scene.eyes.Find(picture.Bgr())) {
    if (auto fit = FromPair(scene, picture, pair, before, seen)) return fit;
  }
  return std::nullopt;
}

// How far apart the lids' openings are says how near the head is; what the reader sees of both eyes
// is a first measurement, coarse and honest about it.
std::optional<HeadFit> EyeAcquirer::FromPair(const Scene& scene, Channels& picture,
                                             const FoundPair& pair,
                                             const std::optional<SeenBefore>& before,
                                             SeenEyes* seen) const {
  const Eigen::Vector2d line = pair.image_right.middle_px - pair.image_left.middle_px;
  const double roll = std::atan2(line.y(), line.x());
  const double radius = std::sqrt(pair.image_left.iris_radius_px * pair.image_right.iris_radius_px);
  SeenEyes found;
  const auto look = [&](const FoundEye& eye, bool left) -> std::optional<IrisMeasurement> {
    EyeReading reading = scene.eyes.Read(picture.Bgr(), eye.middle_px, radius, roll, left);
    if (reading.present < kMayBeAnEye) return std::nullopt;
    // Once more, from where the eye now seems to be.
    reading = scene.eyes.Read(picture.Bgr(), (reading.inner_px + reading.outer_px) / 2,
                              reading.iris_radius_px, roll, left);
    if (reading.present < kSurelyAnEye || LidsOf(reading) != LidState::kOpen) return std::nullopt;
    const double place = reading.place_sd_px,
                 size = reading.size_relative_sd * reading.iris_radius_px;
    (left ? found.left_reading : found.right_reading) = reading;
    return IrisMeasurement{reading.iris_px, reading.iris_radius_px,
                           Eigen::Vector3d(place * place, place * place, size * size).asDiagonal()};
  };
  found.observation.right_iris = look(pair.image_left, false);
  if (!found.observation.right_iris) return std::nullopt;
  found.observation.left_iris = look(pair.image_right, true);
  if (!found.observation.left_iris) return std::nullopt;
  const auto middle = [](const EyeReading& r) -> Eigen::Vector2d {
    return (r.inner_px + r.outer_px) / 2;
  };
  const Eigen::Vector2d left = middle(*found.right_reading), right = middle(*found.left_reading);
  const double apart_mm = (scene.model.mean(kOuterWidth) + scene.model.mean(kInnerWidth)) / 2;
  const double behind_mm = (scene.model.mean(kOuterDepth) + scene.model.mean(kInnerDepth)) / 2;
  const double depth = scene.profile.camera.fx * apart_mm / (right - left).norm() - behind_mm;
  if (depth < 20) return std::nullopt;
  auto fit = Settle(scene, picture, PriorFromEyes(scene, left, right, depth, before), 0.25, &found);
  if (!fit || !found.Both() || !LooksLikeAFace(*fit, found)) return std::nullopt;
  *seen = found;
  return fit;
}

}  // namespace nearpoint
