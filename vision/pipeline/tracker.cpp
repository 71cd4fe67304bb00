#include "vision/pipeline/tracker.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <utility>

#include "vision/distance/eye_turn.h"
#include "vision/distance/head_fit.h"
#include "vision/eyes/eye_finder.h"
#include "vision/eyes/limbus_fit.h"
#include "vision/eyes/skin_anchor.h"
#include "vision/face/eye_region_detector.h"
#include "vision/face/face_finder.h"

namespace nearpoint {
namespace {

using std::chrono::milliseconds;
using std::chrono::seconds;

constexpr Time kForgetAfter = seconds(2);
constexpr Time kSearchAgainAfter = milliseconds(200);
constexpr Time kDoubtAfter = milliseconds(300);  // one eye alone, though both should be in view
constexpr Time kJumpWithin = milliseconds(500);  // how long a jump is looked for
constexpr Time kUnbroken = milliseconds(110);    // between two frames that follow each other
constexpr Time kAloneFor = milliseconds(150);    // how long that is believed without a face
constexpr Time kAloneAtTheRimFor = milliseconds(500);  // the same where the other eye is outside
constexpr Time kCheckEvery =
    milliseconds(500);  // a look for something better than what is followed
constexpr Time kFollowFor =
    milliseconds(1500);  // how long a face is expected about where it was last seen
constexpr double kSearchWidth =
    320;  // pixels: the picture is reduced to this for the search of a whole face
// A box larger than this multiple of the picture's height holds a face that is mostly outside.
constexpr double kLargestBox = 1.30;
constexpr double kOverlapBelowMm =
    240;  // both regimes are compared from here to where the face leaves the picture
constexpr double kAnchorSdMm = 0.25;
// Farther away a face is found whole, and two eyes without one are something else.
constexpr double kEyesAloneWithinMm = 240;
constexpr double kFaceTellsBeyondMm = 200;
constexpr double kFaceFitsBeyondMm = 170;  // a face this far away should have been found whole
constexpr double kMaxTurnRad = 0.5;
// Vergence less than what the target asks, of both eyes together: one may drift out by 12 degrees
// and more, but two irises that seem to cross before the target or to turn farther out are none.
constexpr double kFacingRad = 0.2;  // turn of a head that is taken up again without its face
constexpr double kLeastApartRad = -0.14, kMostApartRad = 0.28;
constexpr double kApartChangesRad = 0.12;  // at most, while a head jumps
constexpr double kOddlyApartRad = 0.17;    // as in a large drift, or where two eyes are mistaken
constexpr double kAloneWidens = 1.7;  // the deviation of one eye alone: tuned on simulated patients
constexpr double kBadLandmarkChi2 = 80;  // of all rigid landmarks together
constexpr double kBadChi2 = 8;           // of the three residuals of one iris
// Costs (squared deviations of three residuals): from the first on it is asked whether an iris
// contradicts the rest, from the second it is looked for again where the rest expects it, beyond
// the third it is left out (1 in 100 by chance).
constexpr double kStrained = 4, kLookAgain = 6, kContradicts = 12;
constexpr double kTurnsRadPerS = 0.2;  // how fast a head turns while it reads a target

// Deviation of one landmark in the picture: about twice the scatter of the corners (1.1 % of the
// distance between the outer corners), since errors of one picture's landmarks are alike and nine
// of them tell less than nine. Nearer, perspective makes the face unlike the portraits that the
// model was trained on, and the landmarks make the head seem to nod.
double LandmarkSd(double outer_px, double distance_mm) {
  const double near = 260 / distance_mm;
  return 0.022 * outer_px * (1 + near * near * near * near);
}

// A pixel grid, coding and compression leave this much even at a perfect edge.
Eigen::Matrix3d WithPixelError(const LimbusFit& fit) {
  constexpr double kAcross = 0.05, kAlong = 0.10, kSize = 0.04;  // pixels
  return fit.covariance_px2 +
         Eigen::Matrix3d(
             Eigen::Vector3d(kAcross * kAcross, kAlong * kAlong, kSize * kSize).asDiagonal());
}

IrisMeasurement ToMeasurement(const LimbusFit& fit) {
  return {fit.ellipse.centre_px, fit.ellipse.semi_major_px, WithPixelError(fit)};
}

bool Believable(const LimbusFit& fit) {
  const double a = fit.ellipse.semi_major_px;
  return fit.residual_px < 0.05 * a + 0.4 && fit.left_points + fit.right_points >= 14;
}

}  // namespace

struct Tracker::Impl {
  std::optional<Length> nearest_gaze;  // see TrackerOptions
  Profile profile;
  FaceFinder finder;
  std::optional<EyeRegionDetector> eye_regions;
  HeadModel prior_model;  // from the profile
  HeadModel model;        // with what was learned
  Counters counters;

  struct Track {
    HeadPose pose;
    Eigen::Vector3d velocity_mm_s = Eigen::Vector3d::Zero();
    Time time{};  // of `pose`
    std::optional<Landmarks> landmarks;
    double landmark_depth_mm = 0;  // depth of the head when they were seen
    Eigen::Vector2d landmark_mid_px{0, 0};
    double contrast = 0;              // of the limbus, running mean
    cv::Mat bridge;                   // small picture of what lies between the eyes
    double distance_mm = 0;           // last reported
    std::optional<SkinPatch> anchor;  // skin between the eyes, with the pose of its key frame
    HeadPose anchor_pose;
    double regime_difference_mm = 0;  // running mean where both regimes see the head
    Time both_seen{};                 // when both irises were last accepted
    Time checked{};                   // when the whole picture was last searched
    int contradictions = 0;  // frames in a row in which landmarks and irises did not fit one head
  };
  std::optional<Track> track;
  std::optional<Time> last_frame;
  struct Place {
    HeadPose pose;
    Time time;
  };
  std::optional<Place> last_seen;
  int searches_in_vain = 0;

  Impl(const Profile& p, FaceFinder f)
      : profile(p), finder(std::move(f)), prior_model(MakeHeadModel(p.face)), model(prior_model) {}

  void Forget() {
    track.reset();
    last_seen.reset();
    searches_in_vain = 0;
    model = prior_model;
  }

  // The channels of one frame, made when first asked for.
  struct Picture {
    const cv::Mat& bgr;
    cv::Mat grey_, whiteness_;
    const cv::Mat& Grey() {
      if (grey_.empty()) cv::cvtColor(bgr, grey_, cv::COLOR_BGR2GRAY);
      return grey_;
    }
    // White of the eye is bright in red and in blue, skin and brows only in red, irises in at most
    // one of them.
    const cv::Mat& Whiteness() {
      if (whiteness_.empty()) {
        cv::Mat blue, red;
        cv::extractChannel(bgr, blue, 0);
        cv::extractChannel(bgr, red, 2);
        whiteness_ = cv::min(blue, red);
      }
      return whiteness_;
    }
  };

  struct Seen {
    HeadObservation observation;
    std::optional<LimbusFit> left, right;
    std::optional<Landmarks> landmarks;
  };

  // Nothing known but where eyes look. Eyes that may look before the target are not pulled to it.
  [[nodiscard]] PosePrior AnyPose() const {
    PosePrior prior;
    if (nearest_gaze) {
      prior.eye_out_sd_rad = std::hypot(prior.eye_out_sd_rad, VergenceAt(nearest_gaze->mm()) / 2);
    }
    return prior;
  }

  // What is known of a followed head before its next picture. A head turns by 60 degrees a second
  // at most while it reads a target (common practice, no source); without evidence it goes back to
  // facing the camera over seconds.
  [[nodiscard]] PosePrior PriorAround(const HeadPose& expected, Time since) const {
    PosePrior prior = AnyPose();
    prior.mean = expected;
    const double t = ToSeconds(since);
    const double keep = std::exp(-t / 5);
    prior.mean.yaw_rad *= keep;
    prior.mean.pitch_rad *= keep;
    // With one eye alone the turn is hardly seen, and its uncertainty grows from when both were.
    const double unseen = track ? ToSeconds(track->time - track->both_seen) : 0.0;
    prior.turn_sd_rad = std::min(0.15, 0.012 + kTurnsRadPerS * t + 0.15 * unseen);
    prior.roll_sd_rad = 0.02 + 0.5 * t;
    // Constant speed, with accelerations of 0.4 m/s2 between two frames; wide enough not to smooth
    // what is measured.
    prior.position_sd_mm = std::max(1.0, 0.01 * expected.mid_in_camera_mm.z()) + 0.5 * 400 * t * t;
    return prior;
  }

  // In a followed face an iris neither jumps nor changes its size from one frame to the next, and a
  // lid's edge is fainter than the limbus was.
  bool Continues(const LimbusFit& fit, const PredictedIris& guess, double search) const {
    const double a = guess.semi_major_px;
    return std::abs(fit.ellipse.semi_major_px - a) < 0.5 * search * a + 0.6 &&
           std::abs(fit.ellipse.centre_px.x() - guess.centre_px.x()) < 0.5 * a &&
           std::abs(fit.ellipse.centre_px.y() - guess.centre_px.y()) < 0.5 * a &&
           fit.contrast > 0.55 * track->contrast;
  }

  void SeeIrises(Picture& picture, const HeadPose& expected, double search, bool following,
                 Seen* seen) const {
    const double line = -expected.roll_rad;
    for (const bool left : {true, false}) {
      const auto guess = PredictIris(expected, model.mean, profile.camera, profile.target_mm, left);
      if (!guess) continue;
      const double margin = 0.4 * guess->semi_major_px;
      if (guess->centre_px.x() < -margin || guess->centre_px.y() < -margin ||
          guess->centre_px.x() > profile.camera.width + margin ||
          guess->centre_px.y() > profile.camera.height + margin) {
        continue;
      }
      LimbusOptions options;
      options.search = search;
      options.size_search = following ? 0.5 * search : search;
      options.eye_line_rad = line;
      auto fit = FitLimbus(
          picture.Grey(), picture.bgr,
          {guess->centre_px, guess->semi_major_px, guess->aspect, guess->angle_rad}, options);
      if (fit && !Believable(*fit)) fit.reset();
      if (fit && following && !Continues(*fit, *guess, search)) fit.reset();
      if (!fit) continue;
      (left ? seen->observation.left_iris : seen->observation.right_iris) = ToMeasurement(*fit);
      (left ? seen->left : seen->right) = fit;
    }
  }

  void SeeLandmarks(Picture& picture, const FaceBox& box, double depth_mm, Seen* seen) {
    ++counters.landmark_fits;
    const Landmarks landmarks = finder.Fit(picture.Grey(), box);
    const double outer_px = (landmarks[36] - landmarks[45]).norm();
    const double sd = LandmarkSd(outer_px, depth_mm);
    for (std::size_t i = 0; i < kRigidLandmarks.size(); ++i) {
      const Eigen::Vector2d& p = landmarks[static_cast<std::size_t>(kRigidLandmarks[i])];
      if (p.x() < 0 || p.y() < 0 || p.x() >= profile.camera.width || p.y() >= profile.camera.height)
        continue;
      seen->observation.landmarks[i] = LandmarkMeasurement{p, i < 4 ? sd : 1.3 * sd};
    }
    seen->landmarks = landmarks;
  }

  std::optional<FaceBox> ExpectedBox(const HeadPose& expected) const {
    if (!track || !track->landmarks) return std::nullopt;
    const FaceBox before = finder.BoxFrom(*track->landmarks);
    const double grow = track->landmark_depth_mm / expected.mid_in_camera_mm.z();
    const Eigen::Vector2d mid = ProjectPoint(profile.camera, expected.mid_in_camera_mm);
    FaceBox box;
    box.side_px = before.side_px * grow;
    box.centre_px = mid + (before.centre_px - track->landmark_mid_px) * grow;
    return box;
  }

  bool Holds(const FaceBox& box) const {
    return box.side_px < kLargestBox * profile.camera.height && box.side_px > 40 &&
           box.centre_px.x() > 0 && box.centre_px.y() > 0 &&
           box.centre_px.x() < profile.camera.width &&
           box.centre_px.y() < profile.camera.height + 0.2 * box.side_px;
  }

  static bool HasLandmarks(const HeadObservation& o) {
    return std::any_of(o.landmarks.begin(), o.landmarks.end(),
                       [](const auto& landmark) { return landmark.has_value(); });
  }

  // The fit with contradictions removed: an iris without which everything else, what is expected of
  // the head included, agrees far better locked on to something else. Where it should be is then
  // known well, and it is looked for once more there.
  std::optional<HeadFit> Fit(Picture& picture, Seen* seen, const PosePrior& prior) const {
    auto fit = FitHead(seen->observation, profile.camera, profile.target_mm, model, prior);
    if (!fit) return fit;
    if (!seen->left || !seen->right) {
      if (!HasLandmarks(seen->observation)) return fit;
      HeadObservation face = seen->observation;
      face.left_iris.reset();
      face.right_iris.reset();
      const auto rest = FitHead(face, profile.camera, profile.target_mm, model, prior);
      if (rest && fit->cost - rest->cost > kContradicts) return std::nullopt;
      return fit;
    }
    const double strain =
        fit->cost - fit->chi2 + std::max(fit->left_iris_chi2, fit->right_iris_chi2);
    if (strain < kStrained) return fit;
    for (const bool again : {true, false}) {
      const auto without = [&](bool left) {
        HeadObservation rest = seen->observation;
        (left ? rest.left_iris : rest.right_iris).reset();
        return FitHead(rest, profile.camera, profile.target_mm, model, prior);
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
      const auto guess =
          PredictIris(rest->pose, rest->personal, profile.camera, profile.target_mm, left);
      if (!guess) break;
      LimbusOptions options;
      options.search = 0.15;
      options.size_search = 0.04;
      options.eye_line_rad = -rest->pose.roll_rad;
      auto better = FitLimbus(
          picture.Grey(), picture.bgr,
          {guess->centre_px, guess->semi_major_px, guess->aspect, guess->angle_rad}, options);
      if (!better || !Believable(*better)) break;
      limbus = better;
      measurement = ToMeasurement(*better);
      fit = FitHead(seen->observation, profile.camera, profile.target_mm, model, prior);
      if (!fit) return std::nullopt;
    }
    return fit;
  }

  // Corners and irises of a whole face, found afresh.
  std::optional<HeadFit> AcquireFace(Picture& picture, bool careful, Seen* seen) {
    ++counters.face_searches;
    const double reduction = std::max(1.0, profile.camera.width / kSearchWidth);
    auto box = finder.Detect(picture.Grey(), reduction);
    // A face that fits badly between two sizes of the coarse search is found in the finer one, four
    // times as slow.
    if (!box && reduction >= 2 && careful) box = finder.Detect(picture.Grey(), reduction / 2);
    if (!box) return std::nullopt;
    const double outer_mm = model.mean(kOuterWidth);
    SeeLandmarks(picture, *box, 400, seen);
    const double depth =
        profile.camera.fx * outer_mm / ((*seen->landmarks)[36] - (*seen->landmarks)[45]).norm();
    *seen = Seen{};
    SeeLandmarks(picture, *box, depth, seen);
    PosePrior prior = AnyPose();
    const auto& p36 = (*seen->landmarks)[36];
    const auto& p45 = (*seen->landmarks)[45];
    const Eigen::Vector2d mid = (p36 + p45) / 2;
    prior.mean.mid_in_camera_mm = {(mid.x() - profile.camera.cx) / profile.camera.fx * depth,
                                   (mid.y() - profile.camera.cy) / profile.camera.fy * depth,
                                   depth};
    prior.mean.roll_rad = -std::atan2(p45.y() - p36.y(), p45.x() - p36.x());
    auto fit = Settle(picture, prior, 0.40, seen);
    // Near by, landmarks are too coarse to refute what was taken for irises.
    if (fit && std::min(depth, fit->pose.mid_in_camera_mm.z()) < kFaceTellsBeyondMm &&
        !(seen->left && seen->right && OnOneTarget(*fit) &&
          LooksLikeAFace(*fit, *seen, picture.bgr))) {
      return std::nullopt;
    }
    return fit;
  }

  // Two round things are not yet two eyes. Whole arcs on the temporal sides, white beside both, a
  // head and eyes that are not twisted, and rulers that agree.
  bool LooksLikeAFace(const HeadFit& fit, const Seen& seen, const cv::Mat& bgr) const {
    constexpr int kWholeArc = 10;
    constexpr double kTwisted = 0.35;
    const HeadPose& pose = fit.pose;
    if (seen.left->right_points < kWholeArc || seen.right->left_points < kWholeArc ||
        fit.left_iris_chi2 + fit.right_iris_chi2 > 2 * kBadChi2 ||
        std::abs(pose.yaw_rad) > kTwisted || std::abs(pose.pitch_rad) > kTwisted ||
        std::abs(pose.left_out_rad) > kTwisted || std::abs(pose.right_out_rad) > kTwisted) {
      return false;
    }
    const auto white = [&](const LimbusFit& eye) {
      return HasWhiteBeside(bgr, eye.ellipse.centre_px, eye.ellipse.semi_major_px, -pose.roll_rad);
    };
    return white(*seen.left) && white(*seen.right);
  }

  // A head whose eyes' openings (or irises) are at these places, `apart_mm` from each other on the
  // face.
  [[nodiscard]] PosePrior PriorFromEyes(const Eigen::Vector2d& image_left,
                                        const Eigen::Vector2d& image_right, double depth_mm) const {
    PosePrior prior = AnyPose();
    const Eigen::Vector2d line = image_right - image_left, mid = (image_right + image_left) / 2;
    prior.mean.mid_in_camera_mm = {(mid.x() - profile.camera.cx) / profile.camera.fx * depth_mm,
                                   (mid.y() - profile.camera.cy) / profile.camera.fy * depth_mm,
                                   depth_mm};
    prior.mean.roll_rad = -std::atan2(line.y(), line.x());
    // A head seen a moment ago is still turned about as it was.
    const double since = last_seen ? ToSeconds(*last_frame - last_seen->time) : 1.0;
    prior.turn_sd_rad = std::min(0.12, 0.04 + 0.15 * since);
    if (since < 0.5) {
      prior.mean.yaw_rad = last_seen->pose.yaw_rad;
      prior.mean.pitch_rad = last_seen->pose.pitch_rad;
    }
    return prior;
  }

  std::optional<HeadFit> AcquireEyes(Picture& picture, Seen* seen) {
    ++counters.eye_searches;
    if (auto fit = AcquireByRegions(picture, seen)) return fit;
    std::optional<HeadFit> best;
    for (const IrisPair& pair : FindIrisPairs(picture.Whiteness(), {})) {
      Seen rough;
      const auto coarse = [](const IrisCandidate& c) {
        const double sd = c.radius_px / 6;
        return IrisMeasurement{c.centre_px, c.radius_px,
                               Eigen::Vector3d(sd * sd, sd * sd, sd * sd).asDiagonal()};
      };
      rough.observation.right_iris = coarse(pair.image_left);
      rough.observation.left_iris = coarse(pair.image_right);
      const double depth = profile.camera.fx * model.mean(kIris) /
                           (pair.image_left.radius_px + pair.image_right.radius_px);
      const PosePrior prior =
          PriorFromEyes(pair.image_left.centre_px, pair.image_right.centre_px, depth);
      const auto fit = Settle(picture, prior, 0.25, &rough);
      if (!fit || !rough.left || !rough.right || !LooksLikeAFace(*fit, rough, picture.bgr))
        continue;
      if (!best || fit->chi2 < best->chi2) {
        best = fit;
        *seen = rough;
      }
    }
    return best;
  }

  // The lids' openings, found by their looks; their distance from each other on the face says how
  // near it is.
  std::optional<HeadFit> AcquireByRegions(Picture& picture, Seen* seen) const {
    if (!eye_regions) return std::nullopt;
    const auto regions = eye_regions->Detect(picture.Grey());
    if (regions.size() != 2) return std::nullopt;
    const bool first_is_left = regions[0].centre_px.x() < regions[1].centre_px.x();
    const Eigen::Vector2d left = regions[first_is_left ? 0 : 1].centre_px;
    const Eigen::Vector2d right = regions[first_is_left ? 1 : 0].centre_px;
    const double apart_mm = (model.mean(kOuterWidth) + model.mean(kInnerWidth)) / 2;
    const double behind_mm = (model.mean(kOuterDepth) + model.mean(kInnerDepth)) / 2;
    const double depth = profile.camera.fx * apart_mm / (right - left).norm() - behind_mm;
    if (depth < 20) return std::nullopt;
    Seen found;
    auto fit = Settle(picture, PriorFromEyes(left, right, depth), 0.30, &found);
    if (!fit || !found.left || !found.right || !LooksLikeAFace(*fit, found, picture.bgr))
      return std::nullopt;
    *seen = found;
    return fit;
  }

  // From rough measurements in `seen`, or from the prior alone, to exact ones: fit, look again
  // where the fit says, fit again.
  std::optional<HeadFit> Settle(Picture& picture, PosePrior prior, double search,
                                Seen* seen) const {
    auto fit = FitHead(seen->observation, profile.camera, profile.target_mm, model, prior);
    if (fit) prior.mean = fit->pose;
    for (const double reach : {search, 0.12}) {
      Seen exact;
      exact.landmarks = seen->landmarks;
      exact.observation.landmarks = seen->observation.landmarks;
      SeeIrises(picture, prior.mean, reach, false, &exact);
      *seen = exact;
      if (!seen->left && !seen->right) return std::nullopt;
      fit = Fit(picture, seen, prior);
      if (!fit) return std::nullopt;
      prior.mean = fit->pose;
    }
    return fit;
  }

  // Personal lengths are learned while the whole face is in view and the eyes have little to
  // converge. Errors of the landmarks are alike from frame to frame, so a second of frames counts
  // about as one.
  void Learn(const HeadFit& fit, Time dt) {
    if (fit.pose.mid_in_camera_mm.z() < 180) return;
    const double share = std::clamp(ToSeconds(dt) / 1.0, 0.0, 1.0);
    const PersonalMatrix posterior =
        fit.covariance.bottomRightCorner<kPersonalCount, kPersonalCount>();
    const PersonalMatrix before = model.covariance.ldlt().solve(PersonalMatrix::Identity());
    const PersonalMatrix after = posterior.ldlt().solve(PersonalMatrix::Identity());
    const PersonalMatrix information = before + share * (after - before);
    const PersonalVector weighted =
        (1 - share) * (before * model.mean) + share * (after * fit.personal);
    const PersonalMatrix covariance = information.ldlt().solve(PersonalMatrix::Identity());
    if (!covariance.allFinite()) return;
    model.covariance = (covariance + covariance.transpose()) / 2;
    model.mean = model.covariance * weighted;
  }

  bool InView(const HeadPose& pose, bool left) const { return InView(pose, left, 0.3); }
  bool WholeInView(const HeadPose& pose, bool left) const { return InView(pose, left, 1.0); }
  // The middle of an iris and `share` of its semi-major axis about it.
  bool InView(const HeadPose& pose, bool left, double share) const {
    const auto iris = PredictIris(pose, model.mean, profile.camera, profile.target_mm, left);
    if (!iris) return false;
    const double margin = share * iris->semi_major_px;
    return iris->centre_px.x() > margin && iris->centre_px.x() < profile.camera.width - margin &&
           iris->centre_px.y() > margin && iris->centre_px.y() < profile.camera.height - margin;
  }
  bool BothInView(const HeadPose& pose) const { return InView(pose, true) && InView(pose, false); }

  // The bridge of the nose at the height of the eyes, where the skin patch is centred: about this
  // far in front of the corneal plane (mean of the head model's bridge).
  [[nodiscard]] Eigen::Vector3d AnchorInHead() const { return {0, 0, -model.mean(kBridge0Depth)}; }

  [[nodiscard]] Eigen::Vector2d AnchorPixel(const HeadPose& pose) const {
    return ProjectPoint(profile.camera,
                        CameraFromHead(pose) * AnchorInHead() + pose.mid_in_camera_mm);
  }

  // Where the skin between the eyes went. It carries the sideways place of the head, which the
  // irises alone cannot tell from one eye turning.
  void SeeAnchor(Picture& picture, const HeadPose& expected, Seen* seen) const {
    if (!track->anchor) return;
    const double enlargement =
        track->anchor_pose.mid_in_camera_mm.z() / expected.mid_in_camera_mm.z();
    const auto found =
        FindSkinPatch(picture.Grey(), *track->anchor, AnchorPixel(expected), enlargement,
                      -(expected.roll_rad - track->anchor_pose.roll_rad));
    if (!found) return;
    // Perspective bends the patch as the head comes nearer or turns, and each key frame inherits
    // the error of its pose: a few tenths of a millimetre on the skin.
    const double bend = (kAnchorSdMm + 1.0 * std::abs(std::log(enlargement))) * profile.camera.fx /
                        expected.mid_in_camera_mm.z();
    // It is asked for the sideways place only: up and down, where a head off the lens axis moves as
    // it comes nearer, the same errors would pull at the distance.
    constexpr double kUpDown = 5;
    seen->observation.anchor = AnchorMeasurement{
        AnchorInHead(), found->centre_px,
        (found->sd_px.array().square() + bend * bend).sqrt() * Eigen::Array2d(1, kUpDown)};
  }

  // What lies between the eyes (bridge of the nose, inner brows), reduced and comparable: it stays
  // when the lids close.
  std::optional<cv::Mat> BridgePicture(Picture& picture, const HeadPose& pose) const {
    const auto left = PredictIris(pose, model.mean, profile.camera, profile.target_mm, true);
    const auto right = PredictIris(pose, model.mean, profile.camera, profile.target_mm, false);
    if (!left || !right) return std::nullopt;
    const double a = (left->semi_major_px + right->semi_major_px) / 2;
    const int x0 = static_cast<int>(
        std::lround(std::min(left->centre_px.x(), right->centre_px.x()) + 2.2 * a));
    const int x1 = static_cast<int>(
        std::lround(std::max(left->centre_px.x(), right->centre_px.x()) - 2.2 * a));
    const double y = (left->centre_px.y() + right->centre_px.y()) / 2;
    const cv::Rect whole(x0, static_cast<int>(std::lround(y - 2 * a)), x1 - x0,
                         static_cast<int>(std::lround(4 * a)));
    const cv::Rect inside = whole & cv::Rect(0, 0, profile.camera.width, profile.camera.height);
    if (inside.area() < 0.7 * whole.area() || inside.area() < 16) return std::nullopt;
    cv::Mat small;
    cv::resize(picture.Grey()(inside), small, cv::Size(16, 16), 0, 0, cv::INTER_AREA);
    small.convertTo(small, CV_32F);
    return small;
  }

  bool BridgeStays(Picture& picture) const {
    if (track->bridge.empty()) return false;
    const auto now = BridgePicture(picture, track->pose);
    if (!now) return false;
    cv::Mat match;
    cv::matchTemplate(*now, track->bridge, match, cv::TM_CCOEFF_NORMED);
    const double level = cv::mean(*now)[0] / std::max(1.0, cv::mean(track->bridge)[0]);
    return match.at<float>(0, 0) > 0.5F && level > 0.6 && level < 1.6;
  }

  LostReason WhyLost(Picture& picture) const {
    if (!track) return LostReason::kNoFace;
    const double turned = std::max(std::abs(track->pose.yaw_rad), std::abs(track->pose.pitch_rad));
    if (turned > 0.75 * kMaxTurnRad) return LostReason::kHeadTurned;
    if (!WholeInView(track->pose, true) || !WholeInView(track->pose, false))
      return LostReason::kTooClose;
    if (BridgeStays(picture)) return LostReason::kEyesClosed;
    return LostReason::kEyesHidden;
  }

  DistanceSample Process(const Frame& frame) {
    ++counters.frames;
    if (last_frame && (frame.time() - *last_frame > kForgetAfter || frame.time() < *last_frame))
      Forget();
    const Time dt = last_frame ? frame.time() - *last_frame : Time{};
    last_frame = frame.time();

    Picture picture{frame.bgr(), {}, {}};
    Seen seen;
    std::optional<HeadFit> fit;
    bool face = false;
    if (track && frame.time() - track->time > kFollowFor) track.reset();
    if (track) fit = Follow(picture, frame.time(), &seen, &face);
    if (!fit && track) {
      fit = FollowJump(picture, frame.time(), &seen);
      face = false;  // what it finds, it finds by the eyes alone
    }
    if (!fit && (!track || frame.time() - track->time > kSearchAgainAfter)) {
      fit = Acquire(picture, frame.time(), &seen, &face);
      searches_in_vain = fit ? 0 : searches_in_vain + 1;
      if (fit) track.reset();
    } else if (fit && !face && Doubtful(*fit, seen, frame.time())) {
      // An eye that was confused with something else would be followed for ever: look at the whole
      // picture now and then.
      track->checked = frame.time();
      Seen other;
      bool other_face = false;
      const auto better = Acquire(picture, frame.time(), &other, &other_face);
      if (better && other.left && other.right && Differs(*better, *fit)) {
        fit = better;
        seen = other;
        face = other_face;
        track.reset();
      }
    }

    DistanceSample sample;
    sample.frame = frame.index();
    sample.time = frame.time();
    if (!fit) {
      sample.why = WhyLost(picture);
      return sample;
    }
    if (face && seen.left && seen.right) sample.regime_difference = RegimeDifference(*fit, seen);
    Report(*fit, seen, face, &sample);  // with the personal lengths that this fit started from
    if (face && seen.left && seen.right) Learn(*fit, std::max(dt, Time(milliseconds(1))));
    Update(picture, *fit, seen, sample);
    return sample;
  }

  std::optional<HeadFit> Acquire(Picture& picture, Time now, Seen* seen, bool* face) {
    *seen = Seen{};
    const bool careful = searches_in_vain % 8 == 0;
    auto fit = AcquireFace(picture, careful, seen);
    if (fit && !Plausible(*fit)) fit.reset();
    *face = fit.has_value();
    if (fit) return fit;
    *seen = Seen{};
    fit = AcquireEyes(picture, seen);
    if (fit && !(Plausible(*fit) && Reachable(*fit, now) &&
                 fit->pose.mid_in_camera_mm.z() < kEyesAloneWithinMm && FoundOnOneTarget(*fit))) {
      fit.reset();
    }
    return fit;
  }

  static double Apart(const HeadPose& pose) { return pose.left_out_rad + pose.right_out_rad; }
  // Vergence of eyes that look at a point so far before the corneal plane.
  [[nodiscard]] double VergenceAt(double distance_mm) const {
    return 2 * std::atan(model.mean(kPd) / 2 / (distance_mm + kCentreOfRotationDepthMm));
  }
  // Where eyes may look before the target, they may cross as far as there.
  [[nodiscard]] double LeastApart(const HeadFit& fit) const {
    if (!nearest_gaze) return kLeastApartRad;
    const double target = (fit.pose.mid_in_camera_mm - profile.target_mm).norm();
    return kLeastApartRad - std::max(0.0, VergenceAt(nearest_gaze->mm()) - VergenceAt(target));
  }
  [[nodiscard]] bool OnOneTarget(const HeadFit& fit) const {
    return Apart(fit.pose) > LeastApart(fit) && Apart(fit.pose) < kMostApartRad;
  }
  // Eyes that are found afresh: more often than a large drift it is a pair of something else.
  [[nodiscard]] bool FoundOnOneTarget(const HeadFit& fit) const {
    return OnOneTarget(fit) && Apart(fit.pose) < kOddlyApartRad + 0.03;
  }

  // Whether a head could have come from where it was last seen.
  [[nodiscard]] bool Reachable(const HeadFit& fit, Time now) const {
    constexpr double kFastestMmPerS = 800;
    if (!last_seen) return true;
    const double before = last_seen->pose.mid_in_camera_mm.z();
    return std::abs(fit.pose.mid_in_camera_mm.z() - before) <
           0.15 * before + kFastestMmPerS * ToSeconds(now - last_seen->time);
  }

  // The same frame without its landmarks, as the near regime would see it.
  [[nodiscard]] std::optional<Length> RegimeDifference(const HeadFit& fit, const Seen& seen) const {
    if (fit.pose.mid_in_camera_mm.z() > kOverlapBelowMm || !track) return std::nullopt;
    HeadObservation eyes_only = seen.observation;
    eyes_only.landmarks = {};
    PosePrior prior = PriorAround(fit.pose, Time{});
    prior.position_sd_mm = 1e4;
    const auto near = FitHead(eyes_only, profile.camera, profile.target_mm, model, prior);
    if (!near) return std::nullopt;
    return DistanceToTarget(fit, model, profile).value -
           DistanceToTarget(*near, model, profile).value;
  }

  bool Doubtful(const HeadFit& fit, const Seen& seen, Time now) const {
    if (now - track->checked < kCheckEvery) return false;
    if (seen.left && seen.right) {
      return fit.pose.mid_in_camera_mm.z() > kFaceFitsBeyondMm ||
             fit.pose.left_out_rad + fit.pose.right_out_rad > kOddlyApartRad;
    }
    return now - track->both_seen > kDoubtAfter && BothInView(fit.pose);
  }

  static bool Differs(const HeadFit& a, const HeadFit& b) {
    return std::abs(std::log(a.pose.mid_in_camera_mm.z() / b.pose.mid_in_camera_mm.z())) > 0.035;
  }

  // Near the camera no landmark bears witness. After a gap the guess is wide, and what is found
  // must look like two eyes. One edge alone is easily that of a lid: one eye counts for a moment
  // after both were seen, longer where the other has left the picture.
  bool Trusted(const HeadFit& fit, const Seen& seen, Picture& picture, Time now, Time since) const {
    if (seen.left && seen.right) {
      return OnOneTarget(fit) &&
             (since <= kSearchAgainAfter ||
              (std::abs(fit.pose.yaw_rad) < kFacingRad && LooksLikeAFace(fit, seen, picture.bgr)));
    }
    return since <= kUnbroken &&
           now - track->both_seen <= (BothInView(fit.pose) ? kAloneFor : kAloneAtTheRimFor);
  }

  // The next frame of a head that was seen before.
  std::optional<HeadFit> Follow(Picture& picture, Time now, Seen* seen, bool* face) {
    const Time since = now - track->time;
    HeadPose expected = track->pose;
    expected.mid_in_camera_mm += track->velocity_mm_s * std::min(ToSeconds(since), 0.15);
    if (expected.mid_in_camera_mm.z() < 15) return std::nullopt;
    const double search = std::clamp(0.10 + 0.6 * ToSeconds(since), 0.12, 0.35);
    SeeIrises(picture, expected, search, true, seen);
    if (const auto box = ExpectedBox(expected); box && Holds(*box)) {
      SeeLandmarks(picture, *box, expected.mid_in_camera_mm.z(), seen);
      *face = true;
    }
    if (!seen->left && !seen->right) return std::nullopt;
    if (!*face) SeeAnchor(picture, expected, seen);
    auto fit = Fit(picture, seen, PriorAround(expected, since));
    if (!fit || !Plausible(*fit)) return std::nullopt;
    const bool held_by_face =
        *face && ((seen->left && seen->right) ||
                  std::min(expected.mid_in_camera_mm.z(), fit->pose.mid_in_camera_mm.z()) >
                      kFaceTellsBeyondMm);
    if (!held_by_face && !Trusted(*fit, *seen, picture, now, since)) return std::nullopt;
    track->contradictions =
        *face && fit->landmark_chi2 > kBadLandmarkChi2 ? track->contradictions + 1 : 0;
    if (track->contradictions > 5) {
      track.reset();
      return std::nullopt;
    }
    return fit;
  }

  // A head that started or stopped faster than expected: the same eyes, nearer or farther. What is
  // found must look like two eyes.
  std::optional<HeadFit> FollowJump(Picture& picture, Time now, Seen* seen) const {
    const Time since = now - track->time;
    if (since > kJumpWithin || track->pose.mid_in_camera_mm.z() > kEyesAloneWithinMm)
      return std::nullopt;
    for (const double farther : {1.10, 0.90, 1.22}) {
      HeadPose expected = track->pose;
      expected.mid_in_camera_mm *= farther;
      if (expected.mid_in_camera_mm.z() < 15) continue;
      *seen = Seen{};
      SeeIrises(picture, expected, 0.16, false, seen);
      if (!seen->left || !seen->right) continue;
      PosePrior prior = PriorAround(expected, since);
      prior.position_sd_mm = 0.15 * expected.mid_in_camera_mm.z();
      auto fit = Fit(picture, seen, prior);
      if (fit && seen->left && seen->right && Plausible(*fit) && OnOneTarget(*fit) &&
          std::abs(Apart(fit->pose) - Apart(track->pose)) < kApartChangesRad &&
          LooksLikeAFace(*fit, *seen, picture.bgr) && Reachable(*fit, now)) {
        return fit;
      }
    }
    *seen = Seen{};
    return std::nullopt;
  }

  bool Plausible(const HeadFit& fit) const {
    return fit.pose.mid_in_camera_mm.z() > 15 && fit.pose.mid_in_camera_mm.z() < 1500 &&
           std::abs(fit.pose.yaw_rad) < kMaxTurnRad && std::abs(fit.pose.pitch_rad) < kMaxTurnRad;
  }

  void Update(Picture& picture, const HeadFit& fit, const Seen& seen,
              const DistanceSample& sample) {
    Track next;
    next.pose = fit.pose;
    next.time = sample.time;
    next.distance_mm = sample.distance->value.mm();
    next.regime_difference_mm = track ? track->regime_difference_mm : 0;
    if (sample.regime_difference) {
      next.regime_difference_mm +=
          0.2 * (sample.regime_difference->mm() - next.regime_difference_mm);
    }
    next.both_seen = seen.left && seen.right ? sample.time : (track ? track->both_seen : Time{});
    next.checked = track ? track->checked : sample.time;
    double contrast = 0;
    for (const auto& eye : {seen.left, seen.right})
      contrast = eye ? std::max(contrast, eye->contrast) : contrast;
    next.contrast = contrast;
    if (track) {
      next.landmarks = track->landmarks;
      next.landmark_depth_mm = track->landmark_depth_mm;
      next.landmark_mid_px = track->landmark_mid_px;
      next.contradictions = track->contradictions;
      next.contrast = 0.9 * track->contrast + 0.1 * contrast;
      const double step = ToSeconds(sample.time - track->time);
      // Only two eyes in a row tell a speed; a head found again after a gap has none yet.
      const bool known = seen.left && seen.right && sample.time - track->time <= kSearchAgainAfter;
      if (step > 0) {
        const Eigen::Vector3d speed =
            known
                ? Eigen::Vector3d((fit.pose.mid_in_camera_mm - track->pose.mid_in_camera_mm) / step)
                : Eigen::Vector3d::Zero();
        next.velocity_mm_s = 0.5 * track->velocity_mm_s + 0.5 * speed;
        constexpr double kFastestHead = 400;
        if (next.velocity_mm_s.norm() > kFastestHead)
          next.velocity_mm_s *= kFastestHead / next.velocity_mm_s.norm();
      }
    }
    if (seen.landmarks) {
      next.landmarks = seen.landmarks;
      next.landmark_depth_mm = fit.pose.mid_in_camera_mm.z();
      next.landmark_mid_px = ProjectPoint(profile.camera, fit.pose.mid_in_camera_mm);
    }
    if (track) {
      next.anchor = track->anchor;
      next.anchor_pose = track->anchor_pose;
    }
    RenewAnchor(picture, fit, seen, &next);
    if (const auto bridge = BridgePicture(picture, fit.pose)) next.bridge = *bridge;
    last_seen = Place{fit.pose, sample.time};
    track = next;
  }

  // A new key frame when there is none or the old one has become too unlike in size; only from a
  // pose that is well known.
  void RenewAnchor(Picture& picture, const HeadFit& fit, const Seen& seen, Track* next) const {
    if (!seen.left || !seen.right) return;
    if (next->anchor) {
      const double enlargement =
          next->anchor_pose.mid_in_camera_mm.z() / fit.pose.mid_in_camera_mm.z();
      if (std::abs(std::log(enlargement)) < 0.16 && seen.observation.anchor) return;
      if (std::abs(std::log(enlargement)) < 0.08) return;
    }
    const double apart =
        std::abs(seen.left->ellipse.centre_px.x() - seen.right->ellipse.centre_px.x());
    const double width =
        apart - 2.2 * (seen.left->ellipse.semi_major_px + seen.right->ellipse.semi_major_px);
    next->anchor = CutSkinPatch(picture.Grey(), AnchorPixel(fit.pose), width);
    next->anchor_pose = fit.pose;
  }

  void Report(const HeadFit& fit, const Seen& seen, bool face, DistanceSample* sample) const {
    sample->mode = face ? TrackMode::kFace : TrackMode::kEyes;
    sample->eye_mid_mm = fit.pose.mid_in_camera_mm;
    const TargetDistance distance = DistanceToTarget(fit, model, profile);
    // Rulers that disagree by more than their deviations allow make the answer less certain, never
    // more.
    const double spread = std::max(1.0, fit.chi2 / std::max(1, fit.measurements - 6));
    // The other eye's size is the only check on a limbus that was mistaken in part.
    const double alone = !face && (!seen.left || !seen.right) ? kAloneWidens : 1;
    const double at_hand_over = track && !face ? track->regime_difference_mm : 0;
    sample->distance = UncertainLength{
        distance.value, Length::Millimeters(std::hypot(
                            alone * distance.measured_sd.mm() * std::sqrt(spread), at_hand_over))};
    sample->distance_shared_sd = distance.shared_sd;
    sample->head = HeadAngles{Angle::Radians(fit.pose.yaw_rad), Angle::Radians(fit.pose.pitch_rad),
                              Angle::Radians(fit.pose.roll_rad)};
    const EyeTurns turns = EyeTurnsOf(fit, model, profile.target_mm);
    for (const bool left : {true, false}) {
      const auto& limbus = left ? seen.left : seen.right;
      if (!limbus) continue;
      const EyeTurn& turn = left ? turns.left : turns.right;
      EyeSample out;
      out.iris_px = limbus->ellipse.centre_px;
      out.iris_major_px = 2 * limbus->ellipse.semi_major_px;
      out.rotation = EyeRotation{turn.inward, turn.up, turn.inward_sd.measured};
      (left ? sample->left_eye : sample->right_eye) = out;
    }
    sample->demand = turns.demand;
    if (sample->left_eye && sample->right_eye) {
      sample->vergence = turns.vergence;
      sample->vergence_sd = turns.vergence_sd.measured;
      sample->vergence_shared_sd = turns.vergence_sd.shared;
    }
  }
};

Tracker::Tracker(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Tracker::Tracker(Tracker&&) noexcept = default;
Tracker& Tracker::operator=(Tracker&&) noexcept = default;
Tracker::~Tracker() = default;

Result<Tracker> Tracker::Create(const Profile& profile, const TrackerModels& models,
                                const TrackerOptions& options) {
  auto finder = FaceFinder::Load(models.landmark_file);
  if (!finder) return tl::unexpected(finder.error());
  auto impl = std::make_unique<Impl>(profile, std::move(*finder));
  impl->nearest_gaze = options.nearest_gaze;
  if (!models.eye_region_file.empty()) {
    auto regions = EyeRegionDetector::Load(models.eye_region_file);
    if (!regions) return tl::unexpected(regions.error());
    impl->eye_regions.emplace(std::move(*regions));
  }
  return Tracker(std::move(impl));
}

Result<DistanceSample> Tracker::Process(const Frame& frame) {
  const CameraIntrinsics& camera = impl_->profile.camera;
  if (frame.bgr().cols != camera.width || frame.bgr().rows != camera.height) {
    return Fail(ErrorCode::kMismatch,
                "The picture is " + std::to_string(frame.bgr().cols) + "x" +
                    std::to_string(frame.bgr().rows) + " pixels, the profile was made for " +
                    std::to_string(camera.width) + "x" + std::to_string(camera.height) + ".");
  }
  return impl_->Process(frame);
}

SharedUncertainty Tracker::shared_uncertainty() const {
  const HeadModel& m = impl_->model;
  const double scale = std::sqrt(m.covariance(kIris, kIris)) / m.mean(kIris);
  const double focal = impl_->profile.camera.focal_rel_sd;
  SharedUncertainty out;
  out.relative_sd = std::hypot(scale, focal);
  out.offset_sd =
      Length::Millimeters(std::hypot(impl_->profile.target_sd.mm(), kCornealOffsetSdMm));
  return out;
}

const Tracker::Counters& Tracker::counters() const { return impl_->counters; }
const HeadModel& Tracker::personal() const { return impl_->model; }

}  // namespace nearpoint
