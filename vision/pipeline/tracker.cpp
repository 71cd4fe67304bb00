#include "vision/pipeline/tracker.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "vision/tracking/eye_acquirer.h"
#include "vision/tracking/in_view.h"
#include "vision/tracking/learn_lenses.h"
#include "vision/tracking/lens_watch.h"
#include "vision/tracking/nose_bridge.h"
#include "vision/tracking/pose_prior.h"
#include "vision/tracking/report.h"
#include "vision/tracking/two_eyes.h"
#include "vision/tracking/why_lost.h"

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
// A look for something better than what is followed.
constexpr Time kCheckEvery = milliseconds(500);
// How long a face is expected about where it was last seen.
constexpr Time kFollowFor = milliseconds(1500);
// A box larger than this multiple of the picture's height holds a face that is mostly outside.
constexpr double kLargestBox = 1.30;
// Both regimes are compared from here to where the face leaves the picture.
constexpr double kOverlapBelowMm = 240;
// Farther away a face is found whole, and two eyes without one are something else.
constexpr double kEyesAloneWithinMm = 240;
constexpr double kFaceFitsBeyondMm = 170;  // a face this far away should have been found whole
constexpr double kFacingRad = 0.2;         // turn of a head that is taken up again without its face
constexpr double kApartChangesRad = 0.12;  // at most, while a head jumps
constexpr double kLearnBeyondMm = 180;     // where eyes have little to converge
constexpr double kBadLandmarkChi2 = 80;    // of all rigid landmarks together

bool Holds(const CameraIntrinsics& camera, const FaceBox& box) {
  return box.side_px < kLargestBox * camera.height && box.side_px > 40 && box.centre_px.x() > 0 &&
         box.centre_px.y() > 0 && box.centre_px.x() < camera.width &&
         box.centre_px.y() < camera.height + 0.2 * box.side_px;
}

bool Differs(const HeadFit& a, const HeadFit& b) {
  return std::abs(std::log(a.pose.mid_in_camera_mm.z() / b.pose.mid_in_camera_mm.z())) > 0.035;
}

// What is stated grows by what lenses that nobody spoke of could do.
void Widen(const LensDoubt& doubt, DistanceSample* sample) {
  if (sample->distance) {
    sample->distance->sd =
        Length::Millimeters(std::hypot(sample->distance->sd.mm(), doubt.distance.mm()));
  }
  if (sample->vergence_sd) {
    sample->vergence_sd =
        Angle::Radians(std::hypot(sample->vergence_sd->rad(), doubt.vergence.rad()));
  }
}

}  // namespace

struct Tracker::Impl {
  Profile profile;                      // with the glasses that were found
  std::optional<Glasses> said;          // of the profile as given
  std::optional<LensWatch> lens_watch;  // where nobody said whether glasses are worn
  std::optional<Length> nearest_gaze;
  EyeNet eyes;
  EyeAcquirer acquirer;
  HeadModel prior_model;  // from the profile
  HeadModel model;        // with what was learned
  std::int64_t frames = 0;

  struct Track {
    HeadPose pose;
    Eigen::Vector3d velocity_mm_s = Eigen::Vector3d::Zero();
    Time time{};  // of `pose`
    std::optional<Landmarks> landmarks;
    double landmark_depth_mm = 0;  // depth of the head when they were seen
    Eigen::Vector2d landmark_mid_px{0, 0};
    double contrast = 0;  // of the limbus, running mean
    std::optional<SkinAnchor> anchor;
    double regime_difference_mm = 0;  // running mean where both regimes see the head
    Time both_seen{};                 // when both irises were last accepted
    Time checked{};                   // when the whole picture was last searched
    int contradictions = 0;  // frames in a row in which landmarks and irises did not fit one head

    // For how long one eye had been followed alone.
    [[nodiscard]] Time OneEye() const { return time - both_seen; }
  };
  std::optional<Track> track;
  std::optional<Time> last_frame;
  struct Place {
    HeadPose pose;
    Time time;
  };
  std::optional<Place> last_seen;
  int searches_in_vain = 0;

  Impl(const Profile& p, const TrackerOptions& options, EyeNet e, EyeAcquirer a)
      : profile(p),
        said(p.face.glasses),
        nearest_gaze(options.nearest_gaze),
        eyes(std::move(e)),
        acquirer(std::move(a)),
        prior_model(MakeHeadModel(p.face)),
        model(prior_model) {
    WatchLenses();
  }

  [[nodiscard]] Scene Now() const {
    return {profile, model, nearest_gaze, eyes, last_seen.has_value()};
  }

  void Forget() {
    track.reset();
    last_seen.reset();
    searches_in_vain = 0;
    model = prior_model;
    profile.face.glasses = said;
    WatchLenses();
  }

  void WatchLenses() {
    lens_watch.reset();
    // In an exercise the eyes look elsewhere, so they tell nothing of lenses.
    if ((!said || !said->worn) && !nearest_gaze) lens_watch.emplace(profile);
  }

  void WearLenses(const LensWatch& watch) {
    profile.face.glasses = watch.profile().face.glasses;
    model = watch.model();
    lens_watch.reset();
  }

  // Lenses that nobody spoke of: looked for while the eyes are on a far target, and in the first
  // picture. Once they are found, the frame is fitted anew with them.
  LensDoubt LookForLenses(const SeenEyes& seen, bool whole_face, Time dt, HeadFit* fit) {
    if (!lens_watch || !seen.Both()) return {};
    double share = 0;
    if (!last_seen) {
      share = 1;
    } else if (whole_face && fit->pose.mid_in_camera_mm.z() > kLearnBeyondMm) {
      share = std::clamp(ToSeconds(dt) / 1.0, 0.0, 1.0);
    }
    const LensDoubt doubt = lens_watch->Look(*fit, seen.observation, share);
    if (!lens_watch->Worn()) return doubt;
    WearLenses(LensWatch(*lens_watch));
    PosePrior prior = AnyPose(Now());
    prior.mean = fit->pose;
    if (const auto with =
            FitHead(seen.observation, profile.camera, profile.target_mm, model, prior)) {
      *fit = *with;
    }
    return {};
  }

  DistanceSample Process(const Frame& frame) {
    ++frames;
    if (last_frame && (frame.time() - *last_frame > kForgetAfter || frame.time() < *last_frame))
      Forget();
    const Time dt = last_frame ? frame.time() - *last_frame : Time{};
    last_frame = frame.time();

    Channels picture(frame.bgr());
    SeenEyes seen;
    std::optional<HeadFit> fit;
    bool face = false;
    if (track && frame.time() - track->time > kFollowFor) track.reset();
    bool face_seen = false;
    if (track) fit = Follow(picture, frame.time(), &seen, &face);
    SeenEyes followed = seen;  // where eyes were expected
    if (!fit && track) {
      fit = FollowJump(picture, frame.time(), &seen);
      face = false;  // what it finds, it finds by the eyes alone
    }
    if (!fit && (!track || frame.time() - track->time > kSearchAgainAfter || !Shut(seen))) {
      fit = Acquire(picture, frame.time(), &seen, &face, &face_seen);
      searches_in_vain = fit ? 0 : searches_in_vain + 1;
      if (fit) track.reset();
    } else if (fit && !face && Doubtful(*fit, seen, frame.time())) {
      // An eye that was confused with something else would be followed for ever: look at the whole
      // picture now and then.
      track->checked = frame.time();
      SeenEyes other;
      bool other_face = false;
      const auto better = Acquire(picture, frame.time(), &other, &other_face, &face_seen);
      if (better && other.Both() && Differs(*better, *fit)) {
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
      LookedAt looked{track ? std::optional(track->pose) : std::nullopt, std::move(seen),
                      face_seen};
      if (!looked.eyes.left_reading && !looked.eyes.right_reading)
        looked.eyes = std::move(followed);
      sample.why = WhyLost(Now(), picture, looked);
      return sample;
    }
    const bool whole_face = face && seen.Both();
    if (whole_face) sample.regime_difference = RegimeDifference(*fit, seen);
    const LensDoubt doubt = LookForLenses(seen, whole_face, dt, &*fit);
    // With the personal lengths that this fit started from.
    Report(Now(), *fit, seen, face, track ? track->regime_difference_mm : 0, &sample);
    Widen(doubt, &sample);
    if (whole_face)
      Learn(FixatingFit(Now(), *fit, seen.observation), std::max(dt, Time(milliseconds(1))));
    Update(picture, *fit, seen, sample);
    return sample;
  }

  // The next frame of a head that was seen before.
  std::optional<HeadFit> Follow(Channels& picture, Time now, SeenEyes* seen, bool* face) {
    const Time since = now - track->time;
    HeadPose expected = track->pose;
    expected.mid_in_camera_mm += track->velocity_mm_s * std::min(ToSeconds(since), 0.15);
    if (expected.mid_in_camera_mm.z() < 15) return std::nullopt;
    const double search = std::clamp(0.10 + 0.6 * ToSeconds(since), 0.12, 0.35);
    FollowedIrises irises{track->contrast};
    // Near the camera, where an eye is large and a frame must be quick, each eye is read in every
    // other frame.
    if (since <= kUnbroken && track->both_seen == track->time &&
        track->pose.mid_in_camera_mm.z() < kEyesAloneWithinMm) {
      (frames % 2 == 0 ? irises.left_read : irises.right_read) = true;
    }
    SeeIrises(Now(), picture, expected, search, irises, seen);
    if (const auto box = ExpectedBox(expected); box && Holds(profile.camera, *box)) {
      acquirer.SeeLandmarks(Now(), picture, *box, expected.mid_in_camera_mm.z(), seen);
      *face = true;
    }
    if (!seen->left && !seen->right) return std::nullopt;
    if (!*face && track->anchor) SeeAnchor(Now(), picture, *track->anchor, expected, seen);
    auto fit =
        FitReconciled(Now(), picture, PriorAround(Now(), expected, since, track->OneEye()), seen);
    if (!fit || !Plausible(*fit)) return std::nullopt;
    const bool held_by_face =
        *face && (seen->Both() || std::min(expected.mid_in_camera_mm.z(),
                                           fit->pose.mid_in_camera_mm.z()) > kFaceTellsBeyondMm);
    if (!held_by_face && !Trusted(*fit, *seen, now, since)) return std::nullopt;
    track->contradictions =
        *face && fit->landmark_chi2 > kBadLandmarkChi2 ? track->contradictions + 1 : 0;
    if (track->contradictions > 5) {
      track.reset();
      return std::nullopt;
    }
    return fit;
  }

  std::optional<FaceBox> ExpectedBox(const HeadPose& expected) const {
    if (!track || !track->landmarks) return std::nullopt;
    const FaceBox before = acquirer.BoxFrom(*track->landmarks);
    const double grow = track->landmark_depth_mm / expected.mid_in_camera_mm.z();
    const Eigen::Vector2d mid = ProjectPoint(profile.camera, expected.mid_in_camera_mm);
    FaceBox box;
    box.side_px = before.side_px * grow;
    box.centre_px = mid + (before.centre_px - track->landmark_mid_px) * grow;
    return box;
  }

  // Near the camera no landmark bears witness. After a gap the guess is wide, and what is found
  // must look like two eyes. One edge alone is easily that of a lid: one eye counts for a moment
  // after both were seen, longer where the other has left the picture.
  bool Trusted(const HeadFit& fit, const SeenEyes& seen, Time now, Time since) const {
    if (seen.Both()) {
      return OnOneTarget(Now(), fit) &&
             (since <= kSearchAgainAfter ||
              (std::abs(fit.pose.yaw_rad) < kFacingRad && LooksLikeAFace(fit, seen)));
    }
    return since <= kUnbroken &&
           now - track->both_seen <= (BothInView(Now(), fit.pose) ? kAloneFor : kAloneAtTheRimFor);
  }

  // A head that started or stopped faster than expected: the same eyes, nearer or farther. What is
  // found must look like two eyes.
  std::optional<HeadFit> FollowJump(Channels& picture, Time now, SeenEyes* seen) const {
    const Time since = now - track->time;
    if (since > kJumpWithin || track->pose.mid_in_camera_mm.z() > kEyesAloneWithinMm)
      return std::nullopt;
    for (const double farther : {1.10, 0.90, 1.22}) {
      HeadPose expected = track->pose;
      expected.mid_in_camera_mm *= farther;
      if (expected.mid_in_camera_mm.z() < 15) continue;
      *seen = SeenEyes{};
      SeeIrises(Now(), picture, expected, 0.16, std::nullopt, seen);
      if (!seen->Both()) continue;
      PosePrior prior = PriorAround(Now(), expected, since, track->OneEye());
      prior.position_sd_mm = 0.15 * expected.mid_in_camera_mm.z();
      auto fit = FitReconciled(Now(), picture, prior, seen);
      if (fit && seen->Both() && Plausible(*fit) && OnOneTarget(Now(), *fit) &&
          std::abs(Apart(fit->pose) - Apart(track->pose)) < kApartChangesRad &&
          LooksLikeAFace(*fit, *seen) && Reachable(*fit, now)) {
        return fit;
      }
    }
    *seen = SeenEyes{};
    return std::nullopt;
  }

  std::optional<HeadFit> Acquire(Channels& picture, Time now, SeenEyes* seen, bool* face,
                                 bool* face_seen) {
    auto fit = AcquireIn(Now(), picture, now, seen, face, face_seen);
    if (!lens_watch || (fit ? FitsWithoutLenses(*fit, *seen) : searches_in_vain % 4 != 0))
      return fit;
    // Strong lenses make eyes that nobody spoke of lenses for look like no eyes.
    for (const double diopters : {0.0, -5.0, 4.0}) {
      const HeadModel about = lens_watch->ModelAbout(diopters);
      SeenEyes other;
      bool other_face = false;
      auto through = AcquireIn({lens_watch->profile(), about, nearest_gaze, eyes}, picture, now,
                               &other, &other_face, face_seen);
      if (!through || !other.Both()) continue;
      // Eyes of another size than expected are believed where a face bears witness.
      if (diopters != 0 && !(other_face && Easy(*through))) continue;
      PosePrior prior = AnyPose(Now());
      prior.mean = through->pose;
      through =
          FitHead(other.observation, profile.camera, profile.target_mm, lens_watch->model(), prior);
      if (!through) continue;
      LensWatch watch = *lens_watch;
      watch.Look(*through, other.observation, 1);
      if (!watch.Worn()) continue;
      WearLenses(watch);
      *seen = other;
      *face = other_face;
      return through;
    }
    return fit;
  }

  // Whether a head found afresh need not be looked at again as one with glasses: one that was
  // followed before, unless its two eyes are at odds with it.
  [[nodiscard]] bool FitsWithoutLenses(const HeadFit& fit, const SeenEyes& seen) const {
    return last_seen && (!seen.Both() || Easy(fit));
  }

  static bool Easy(const HeadFit& fit) {
    constexpr double kEasyChi2 = 6;  // of the three residuals of each iris
    return fit.left_iris_chi2 + fit.right_iris_chi2 < kEasyChi2;
  }

  std::optional<HeadFit> AcquireIn(const Scene& scene, Channels& picture, Time now, SeenEyes* seen,
                                   bool* face, bool* face_seen) {
    *seen = SeenEyes{};
    const bool careful = searches_in_vain % 8 == 0;
    std::optional<HeadFit> fit;
    if (track && track->landmarks) {
      if (const auto box = ExpectedBox(track->pose); box && Holds(profile.camera, *box))
        fit = acquirer.InBox(scene, picture, *box, seen);
    }
    if (!fit || !Plausible(*fit)) fit = acquirer.ByFace(scene, picture, careful, seen, face_seen);
    if (fit && !Plausible(*fit)) fit.reset();
    *face = fit.has_value();
    // A face that is seen whole is not nearer than it looks: eyes without one are searched where
    // there is none.
    if (fit || (*face_seen && !NearEnough(*seen))) return fit;
    std::optional<SeenBefore> before;
    if (last_seen) before = SeenBefore{last_seen->pose, now - last_seen->time};
    SeenEyes alone;
    fit = acquirer.ByEyes(scene, picture, before, &alone);
    if (fit &&
        !(Plausible(*fit) && Reachable(*fit, now) &&
          fit->pose.mid_in_camera_mm.z() < kEyesAloneWithinMm && FoundOnOneTarget(scene, *fit))) {
      fit.reset();
    }
    if (fit) *seen = alone;
    return fit;
  }

  // Whether the face in a box is so near that its eyes may be found better alone.
  [[nodiscard]] bool NearEnough(const SeenEyes& seen) const {
    if (!seen.landmarks) return true;
    const double outer_px = ((*seen.landmarks)[36] - (*seen.landmarks)[45]).norm();
    return profile.camera.fx * model.mean(kOuterWidth) < kEyesAloneWithinMm * outer_px;
  }

  // Both eyes are where they should be, and their lids are closed.
  [[nodiscard]] static bool Shut(const SeenEyes& seen) {
    const auto shut = [](const std::optional<EyeReading>& reading) {
      return reading && LidsOf(*reading) == LidState::kShut;
    };
    return shut(seen.left_reading) && shut(seen.right_reading);
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
  [[nodiscard]] std::optional<Length> RegimeDifference(const HeadFit& fit,
                                                       const SeenEyes& seen) const {
    if (fit.pose.mid_in_camera_mm.z() > kOverlapBelowMm || !track) return std::nullopt;
    HeadObservation eyes_only = seen.observation;
    eyes_only.landmarks = {};
    PosePrior prior = PriorAround(Now(), fit.pose, Time{}, track->OneEye());
    prior.position_sd_mm = 1e4;
    const auto near = FitHead(eyes_only, profile.camera, profile.target_mm, model, prior);
    if (!near) return std::nullopt;
    return DistanceToTarget(fit, model, profile).value -
           DistanceToTarget(*near, model, profile).value;
  }

  bool Doubtful(const HeadFit& fit, const SeenEyes& seen, Time now) const {
    if (now - track->checked < kCheckEvery) return false;
    if (seen.Both()) {
      return fit.pose.mid_in_camera_mm.z() > kFaceFitsBeyondMm || OddlyApart(fit);
    }
    return now - track->both_seen > kDoubtAfter && BothInView(Now(), fit.pose);
  }

  // Personal lengths are learned while the whole face is in view and the eyes have little to
  // converge. Errors of the landmarks are alike from frame to frame, so a second of frames counts
  // about as one.
  void Learn(const HeadFit& fit, Time dt) {
    if (fit.pose.mid_in_camera_mm.z() < kLearnBeyondMm) return;
    if (const auto taught = Taught(model, fit, std::clamp(ToSeconds(dt) / 1.0, 0.0, 1.0)))
      model = *taught;
  }

  void Update(Channels& picture, const HeadFit& fit, const SeenEyes& seen,
              const DistanceSample& sample) {
    Track next;
    next.pose = fit.pose;
    next.time = sample.time;
    next.regime_difference_mm = track ? track->regime_difference_mm : 0;
    if (sample.regime_difference) {
      next.regime_difference_mm +=
          0.2 * (sample.regime_difference->mm() - next.regime_difference_mm);
    }
    next.both_seen = seen.Both() ? sample.time : (track ? track->both_seen : Time{});
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
      const bool known = seen.Both() && sample.time - track->time <= kSearchAgainAfter;
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
    if (track) next.anchor = track->anchor;
    RenewAnchor(Now(), picture, fit, seen, &next.anchor);
    last_seen = Place{fit.pose, sample.time};
    track = next;
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
  auto eyes = EyeNet::Load(models.eye_finder_file, models.eye_reader_file);
  if (!eyes) return tl::unexpected(eyes.error());
  return Tracker(
      std::make_unique<Impl>(profile, options, std::move(*eyes), EyeAcquirer(std::move(*finder))));
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
  const double scale = RelativeScaleSd(impl_->model);
  const double focal = impl_->profile.camera.focal_rel_sd;
  SharedUncertainty out;
  out.relative_sd = std::hypot(scale, focal);
  out.offset_sd =
      Length::Millimeters(std::hypot(impl_->profile.target_sd.mm(), kCornealOffsetSdMm));
  return out;
}

Tracker::Counters Tracker::counters() const {
  const EyeAcquirer::Counters& steps = impl_->acquirer.counters();
  return {impl_->frames, steps.face_searches, steps.eye_searches, steps.landmark_fits};
}
const HeadModel& Tracker::personal() const { return impl_->model; }

}  // namespace nearpoint
