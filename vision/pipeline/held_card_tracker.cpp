#include "vision/pipeline/held_card_tracker.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "calibration/face_touch.h"
#include "calibration/print_scale.h"
#include "vision/card/card_pattern.h"
#include "vision/card/find_pattern.h"
#include "vision/distance/eye_turn.h"
#include "vision/distance/head_fit.h"
#include "vision/face/face_finder.h"
#include "vision/pipeline/card_placement.h"
#include "vision/pipeline/grain.h"
#include "vision/pipeline/iris_search.h"
#include "vision/pipeline/upper_face.h"

namespace nearpoint {
namespace {

constexpr Time kHiddenFor = std::chrono::seconds(1);
constexpr Time kForgetAfter = std::chrono::seconds(2);
constexpr Time kUnseenFor = std::chrono::milliseconds(1500);  // longer than a blink
// A head that is told to keep still wanders by this much in a second (common practice, no source).
constexpr double kWanderMm = 6;
// How far the head is, is learned only while the eyes converge little: nearer, a turned iris
// narrows as its centre moves in, white beside it becomes a sliver, and an eye may have let go.
// Nearer than the first nothing is learned, beyond the second all.
constexpr double kLearnFromMm = 140;
constexpr double kLearnFullyMm = 260;
// The ruler is the length that is known better: the distance of the pupils of a person who was
// measured (its two ends are found to 0.05 px, while the size of an iris reads several thousandths
// wrong, by more the more the eye is turned), the iris of one who was not.
constexpr double kIrisBias = 0.012;       // how wrong an iris may read, relative
constexpr double kFixationSdRad = 0.015;  // of each eye about the card's target
// One picture's depth by either ruler, relative: eyes tremble on their target by a quarter of a
// degree (common practice, no source); an iris of 23 px read to 0.1.
constexpr double kPdSd = 0.0015;
constexpr double kIrisSd = 0.005;
// A head is turned otherwise from one sitting to the next, which shortens the distance of the
// pupils: 3.5 degrees do so by 0.2 % (computed; the angle is our own judgement).
constexpr double kSittingRelSd = 0.002;
constexpr double kLooks = 40;        // pictures that count before older ones are forgotten
constexpr double kUnlearned = 0.02;  // of the depth, from eyes that converge strongly
// How far a head turns in a second (simulated patients do half of that; our own judgement).
constexpr double kTurnSdRad = 0.04;
// Skin moves on the skull, and a forehead is no cylinder. On rendered heads that sway by 2 degrees.
constexpr double kScaleFloor = 1.2e-3;
constexpr double kSteadySeconds = 0.15;
constexpr double kMovedMm = 12;
constexpr double kNewKeyBeyond = 0.06;  // enlargement
constexpr double kSearchWidth = 320;    // pixels: the search for a whole face
constexpr double kIrisSpread = 0.12;    // of its size, when the head is followed
constexpr double kFirstSpread = 0.30;
constexpr double kLargestDifference = 0.10;  // of the two irises' sizes
constexpr double kFarthestHeadMm = 1200;
constexpr double kNearestHeadMm = 200;
constexpr double kPlaceSdMm = 1.5;  // of a head that its upper face has placed

// A head that is followed by its upper face.
struct Head {
  UpperFace key;
  double key_depth_mm = 0;  // of it, learned from the eyes
  double weight = 0;        // pictures that it was learned from
  double scatter_mm2 = 0;   // of one of them
  std::optional<UpperFaceMotion> motion;
  Time time{};       // of `motion`
  Time eyes{};       // when both irises were last where they had to be
  HeadPose pose;     // place of the last motion; turns of head and eyes as last seen
  double sd_mm = 0;  // of the place along the line of sight
};

struct Irises {
  LimbusFit left, right;
};

IrisMeasurement ToMeasurement(const LimbusFit& fit) {
  return {fit.ellipse.centre_px, fit.ellipse.semi_major_px, CovarianceOf(fit)};
}

}  // namespace

struct HeldCardTracker::Impl {
  Profile profile;
  FaceFinder finder;
  HeadModel model;
  HeadModel ruler;     // with its length as if it were known: what is not is the same in all frames
  bool by_pd = false;  // the ruler is the distance of the pupils, else the iris
  double ruler_rel_sd = 0;  // of its length
  std::optional<Head> head;
  std::optional<Time> last;                  // picture
  std::optional<Eigen::Vector3d> steady_mm;  // the head without the tremble of its registration
  Time steady_time{};
  double head_mm = 500;                      // last known distance of the head from the lens
  std::optional<Eigen::Vector3d> target_mm;  // in the last picture
  std::optional<PrintAspect> aspect;         // likewise
  int searches_in_vain = 0;

  Impl(const Profile& p, FaceFinder f)
      : profile(p), finder(std::move(f)), model(MakeHeadModel(p.face)) {
    const auto relative = [&](int length) {
      return std::sqrt(model.covariance(length, length)) / model.mean(length);
    };
    by_pd = relative(kPd) <= relative(kIris);
    const int length = by_pd ? kPd : kIris;
    ruler_rel_sd = relative(length);
    if (by_pd) {
      model.covariance(kIris, kIris) =
          std::pow(std::hypot(kIrisBias, relative(kIris)) * model.mean(kIris), 2);
    }
    constexpr double kAsGoodAsKnownMm = 1e-3;
    ruler = model;
    ruler.covariance.row(length).setZero();
    ruler.covariance.col(length).setZero();
    ruler.covariance(length, length) = kAsGoodAsKnownMm * kAsGoodAsKnownMm;
  }

  [[nodiscard]] std::optional<Irises> Checked(const std::optional<LimbusFit>& left,
                                              const std::optional<LimbusFit>& right) const {
    if (!left || !right) return std::nullopt;
    if (std::abs(std::log(left->ellipse.semi_major_px / right->ellipse.semi_major_px)) >
        kLargestDifference) {
      return std::nullopt;
    }
    return Irises{*left, *right};
  }

  // Irises of a face that was not followed.
  std::optional<Irises> Acquire(const EyeChannels& picture) {
    const double reduction = std::max(1.0, profile.camera.width / kSearchWidth);
    auto box = finder.Detect(picture.grey, reduction);
    if (!box && reduction >= 2 && searches_in_vain++ % 4 == 0) {
      box = finder.Detect(picture.grey, reduction / 2);
    }
    if (!box) return std::nullopt;
    searches_in_vain = 0;
    const Landmarks l = finder.Fit(picture.grey, *box);
    // What a face's width says of its iris: to within a fifth.
    const double radius_px =
        (l[45] - l[36]).norm() / model.mean(kOuterWidth) * model.mean(kIris) / 2;
    return Checked(FindIrisBetween(picture, l[42], l[45], radius_px, kFirstSpread),
                   FindIrisBetween(picture, l[36], l[39], radius_px, kFirstSpread));
  }

  [[nodiscard]] std::optional<Irises> Follow(const EyeChannels& picture,
                                             const Eigen::Vector3d& target) const {
    std::optional<LimbusFit> found[2];
    for (const bool left : {true, false}) {
      const auto guess = PredictIris(head->pose, model.mean, profile.camera, target, left);
      if (!guess) return std::nullopt;
      found[left ? 0 : 1] = FindIrisAt(
          picture, {guess->centre_px, guess->semi_major_px, guess->aspect, guess->angle_rad},
          -head->pose.roll_rad, 0.35, kIrisSpread);
    }
    return Checked(found[0], found[1]);
  }

  // The head that explains two irises on the target. The face is taken to look about at the lens.
  // place: where the head is known to be, and the eyes may turn as they like; without it they look
  // at the target, and the ruler says how far the head is.
  [[nodiscard]] std::optional<HeadFit> Fit(const Irises& irises, const Eigen::Vector3d& target,
                                           const std::optional<Eigen::Vector3d>& place) const {
    HeadObservation seen;
    seen.left_iris = ToMeasurement(irises.left);
    seen.right_iris = ToMeasurement(irises.right);
    PosePrior prior;
    const CameraIntrinsics& c = profile.camera;
    const Eigen::Vector2d mid =
        (irises.left.ellipse.centre_px + irises.right.ellipse.centre_px) / 2;
    const double depth = c.fx * model.mean(kIris) /
                         (irises.left.ellipse.semi_major_px + irises.right.ellipse.semi_major_px);
    prior.mean.mid_in_camera_mm = {(mid.x() - c.cx) / c.fx * depth, (mid.y() - c.cy) / c.fy * depth,
                                   depth};
    if (place) {
      prior.mean.mid_in_camera_mm = *place;
      prior.position_sd_mm = kPlaceSdMm;
    } else if (by_pd) {
      prior.eye_out_sd_rad = kFixationSdRad;
    }
    const Eigen::Vector2d line = irises.left.ellipse.centre_px - irises.right.ellipse.centre_px;
    prior.mean.roll_rad = -std::atan2(line.y(), line.x());
    prior.turn_sd_rad = 0.06;
    auto fit = FitHead(seen, c, target, place ? model : ruler, prior);
    if (!fit || fit->pose.mid_in_camera_mm.z() < kNearestHeadMm ||
        fit->pose.mid_in_camera_mm.z() > kFarthestHeadMm) {
      return std::nullopt;
    }
    return fit;
  }

  // How much a picture tells of the head's depth when the card is this near to the eyes.
  // Eyes that converge strongly can be mistaken for a head far behind, hence the nearer of the two.
  [[nodiscard]] double Weight(const HeadPose& pose, const std::optional<CardPlacement>& card,
                              const Eigen::Vector3d& target) const {
    if (!card) return 0;
    double reach = (target - pose.mid_in_camera_mm).norm();
    if (head) reach = std::min(reach, (target - head->pose.mid_in_camera_mm).norm());
    return std::clamp((reach - kLearnFromMm) / (kLearnFullyMm - kLearnFromMm), 0.0, 1.0);
  }

  void Begin(const EyeChannels& picture, const Irises& irises, const HeadFit& fit, double weight,
             Time now) {
    auto key = UpperFace::FromKey(picture.grey, profile.camera, fit.pose.mid_in_camera_mm,
                                  irises.left.ellipse.centre_px, irises.right.ellipse.centre_px);
    if (!key) return;
    Head next{*std::move(key),
              fit.pose.mid_in_camera_mm.z(),
              weight,
              fit.covariance(5, 5),
              {},
              now,
              now,
              fit.pose,
              0};
    if (weight <= 0) next.scatter_mm2 = std::pow(kUnlearned * next.key_depth_mm, 2);
    next.sd_mm = std::sqrt(next.scatter_mm2);
    head = std::move(next);
  }

  // Where the upper face says that the head is now. False when it is not found.
  bool Move(const EyeChannels& picture, Time now) {
    const double turned = kTurnSdRad * std::sqrt(std::min(1.0, ToSeconds(now - head->time)));
    auto motion = head->key.Find(picture.grey, head->motion, turned);
    if (!motion && head->motion) motion = head->key.Find(picture.grey, std::nullopt, kTurnSdRad);
    if (!motion) {
      head->sd_mm = std::hypot(head->sd_mm, kWanderMm * std::sqrt(ToSeconds(now - head->time)));
      return false;
    }
    head->motion = motion;
    head->time = now;
    head->key.Deepen(picture.grey, *motion);
    Place(*motion);
    return true;
  }

  void Place(const UpperFaceMotion& motion) {
    head->pose.mid_in_camera_mm = head->key_depth_mm * motion.mid_in_key_depths;
    const double depth = head->pose.mid_in_camera_mm.z();
    // Pictures in a row are alike: four count as one.
    const double learned = head->scatter_mm2 / std::max(1.0, head->weight / 4);
    const double registered = depth * std::hypot(2 * motion.depth_sd, kScaleFloor);
    head->sd_mm = std::sqrt(learned + registered * registered);
  }

  // One picture's depth of a head that looks at the card's target, and whether it agrees with what
  // is known of the head: what does not is an eye that has let go of the target.
  [[nodiscard]] double OwnSd(const HeadFit& free, double weight) const {
    return (by_pd ? kPdSd : kIrisSd) * free.pose.mid_in_camera_mm.z() / std::sqrt(weight);
  }
  [[nodiscard]] bool Agrees(const HeadFit& free, double own_sd) const {
    return std::abs(free.pose.mid_in_camera_mm.z() - head->pose.mid_in_camera_mm.z()) <=
           3 * std::hypot(own_sd, head->sd_mm);
  }

  // The eyes place the head in each picture anew, as far as they tell more than the upper face
  // does.
  void Sharpen(const HeadFit& free, double weight) {
    const double own = OwnSd(free, weight);
    if (!Agrees(free, own)) return;
    const double variance = head->sd_mm * head->sd_mm;
    const double share = variance / (variance + own * own);
    const double ratio = free.pose.mid_in_camera_mm.z() / head->pose.mid_in_camera_mm.z();
    head->pose.mid_in_camera_mm *= 1 + share * (ratio - 1);
    head->sd_mm *= std::sqrt(1 - share);
  }

  // A head whose upper face is lost for a moment.
  void PlaceByIrises(const HeadFit& free, double weight, Time now) {
    const double own = OwnSd(free, weight);
    if (!Agrees(free, own)) return;
    head->pose.mid_in_camera_mm = free.pose.mid_in_camera_mm;
    head->sd_mm = own;
    head->time = now;
  }

  // Takes what the eyes of this picture say of the depth of the head into that of the key picture.
  void Learn(const HeadFit& free, double weight) {
    const double key_depth = free.pose.mid_in_camera_mm.z() / head->motion->mid_in_key_depths.z();
    const double off = key_depth - head->key_depth_mm;
    // A limbus fit that is off for a moment.
    if (head->weight > 5 && off * off > 16 * std::max(head->scatter_mm2, free.covariance(5, 5))) {
      return;
    }
    const double before = std::min(head->weight, kLooks);
    head->key_depth_mm += weight / (before + weight) * off;
    head->scatter_mm2 += weight / (before + weight) * (off * off - head->scatter_mm2);
    head->weight = before + weight;
  }

  void ReportEyes(const HeadFit& fit, const Irises& irises, const Eigen::Vector3d& target,
                  DistanceSample* sample) const {
    const EyeTurns turns = EyeTurnsOf(fit, model, target);
    for (const bool left : {true, false}) {
      const LimbusFit& limbus = left ? irises.left : irises.right;
      const EyeTurn& turn = left ? turns.left : turns.right;
      EyeSample out;
      out.iris_px = limbus.ellipse.centre_px;
      out.iris_major_px = 2 * limbus.ellipse.semi_major_px;
      out.rotation = EyeRotation{turn.inward, turn.up, turn.inward_sd.measured};
      (left ? sample->left_eye : sample->right_eye) = out;
    }
    sample->vergence = turns.vergence;
    sample->vergence_sd = turns.vergence_sd.measured;
    sample->vergence_shared_sd = turns.vergence_sd.shared;
  }

  // The head keeps still, its registration trembles by a millimetre or two: a short running mean.
  void Steady(Time now) {
    const Eigen::Vector3d& mid = head->pose.mid_in_camera_mm;
    if (!steady_mm || now - steady_time > kHiddenFor || (mid - *steady_mm).norm() > kMovedMm) {
      steady_mm = mid;
    } else {
      const double gain = 1 - std::exp(-ToSeconds(now - steady_time) / kSteadySeconds);
      *steady_mm += gain * (mid - *steady_mm);
    }
    steady_time = now;
  }

  // What the card's target asks of the two eyes.
  [[nodiscard]] Angle Demand(const Eigen::Vector3d& target) const {
    const Eigen::Matrix3d head_from_camera = CameraFromHead(head->pose).transpose();
    Angle sum;
    for (const bool left : {true, false}) {
      const EyeInCamera eye = EyeOf(head->pose, model.mean, target, left);
      const Eigen::Vector3d d = head_from_camera * (target - eye.centre_of_rotation_mm);
      sum = sum + Angle::Radians((left ? -1 : 1) * std::atan2(d.x(), d.z()));
    }
    return sum;
  }

  // What is wrong with a picture that places no head: darkness, or else this.
  [[nodiscard]] LostReason OrTooDark(const cv::Mat& grey, LostReason otherwise) const {
    cv::Rect around({}, grey.size());
    if (head) around = head->key.region();
    return IsTooDark(grey, around) ? LostReason::kTooDark : otherwise;
  }

  // Whether the place of the head may still be believed.
  [[nodiscard]] bool Known(Time now) const { return head && now - head->time <= kHiddenFor; }

  // The irises of this picture and the head that they belong to.
  struct Look {
    std::optional<Irises> irises;
    std::optional<HeadFit> fit;
  };
  Look SeeHead(const EyeChannels& picture, const std::optional<CardPlacement>& card,
               const Eigen::Vector3d& target, Time now) {
    Look look;
    if (last && (now - *last > kForgetAfter || now < *last)) head.reset();
    last = now;
    if (!head) {
      look.irises = Acquire(picture);
      if (look.irises) look.fit = Fit(*look.irises, target, std::nullopt);
      if (look.fit)
        Begin(picture, *look.irises, *look.fit, Weight(look.fit->pose, card, target), now);
      return look;
    }
    const bool found = Move(picture, now);
    look.irises = Follow(picture, target);
    if (look.irises || Weight(head->pose, card, target) <= 0) head->eyes = now;
    if (!look.irises && !Known(now)) {
      look.irises = Acquire(picture);  // the head may have moved
    }
    if (!look.irises) return look;
    const auto free = Fit(*look.irises, target, std::nullopt);
    const double weight = free ? Weight(free->pose, card, target) : 0;
    if (!found && weight > 0 && !Known(now)) {
      Begin(picture, *look.irises, *free, weight, now);
    } else if (!found && weight > 0) {
      PlaceByIrises(*free, weight, now);
    } else if (found && weight > 0) {
      Learn(*free, weight);
      Place(*head->motion);
      Sharpen(*free, weight);
      // Points drift off as the face turns or comes nearer; a new key while the depth is well seen.
      if (std::abs(std::log(head->motion->mid_in_key_depths.z())) > kNewKeyBeyond && weight == 1) {
        Begin(picture, *look.irises, *free, weight, now);
      }
    }
    look.fit = Fit(*look.irises, target, head->pose.mid_in_camera_mm);
    if (look.fit) {
      const Eigen::Vector3d mid = head->pose.mid_in_camera_mm;
      head->pose = look.fit->pose;
      head->pose.mid_in_camera_mm = mid;
    }
    return look;
  }

  DistanceSample Process(const Frame& frame) {
    DistanceSample sample;
    sample.frame = frame.index();
    sample.time = frame.time();
    PatternOptions options;
    options.by_look = false;  // the hand that holds the card lies across some markers
    const auto pattern = FindPattern(frame.bgr(), options);
    const auto card =
        pattern ? PlaceCard(*pattern, profile.camera) : std::optional<CardPlacement>();
    const HeldCardSetup& setup = *profile.held_card;
    // Without the card the eyes may look anywhere; toward the lens is the middle of that.
    const Eigen::Vector3d target = card ? Eigen::Vector3d(LengthFactor(PrintOf(profile)) *
                                                          card->ToCamera(setup.target_in_card_mm))
                                        : Eigen::Vector3d::Zero();
    target_mm = card ? std::optional(target) : std::nullopt;
    aspect = card ? card->aspect : std::nullopt;
    const EyeChannels picture = EyeChannelsOf(frame.bgr());
    const Look look = SeeHead(picture, card, target, frame.time());

    const auto lost = [&](LostReason why) {
      sample.mode = TrackMode::kLost;
      sample.why = why;
      return sample;
    };
    if (!Known(frame.time())) {
      return lost(OrTooDark(picture.grey, head ? LostReason::kEyesHidden : LostReason::kNoFace));
    }
    Steady(frame.time());
    head_mm = steady_mm->norm();
    // Eyes that nothing hides and that are not where the head has them: that is another place.
    if (frame.time() - head->eyes > kUnseenFor) {
      head.reset();
      return lost(OrTooDark(picture.grey, LostReason::kEyesHidden));
    }
    const double zero = setup.zero ? setup.zero->value.mm() : 0;
    sample.eye_mid_mm = *steady_mm * (1 - zero / head_mm);
    sample.head =
        HeadAngles{Angle::Radians(head->pose.yaw_rad), Angle::Radians(head->pose.pitch_rad),
                   Angle::Radians(head->pose.roll_rad)};
    if (!card) return lost(LostReason::kNoCard);
    if (head->sd_mm > kPoorestHead.mm()) {
      return lost(OrTooDark(picture.grey, LostReason::kEyesHidden));
    }
    if (look.fit) ReportEyes(*look.fit, *look.irises, target, &sample);

    const Eigen::Vector3d line = target - *sample.eye_mid_mm;
    const double reach = line.norm();
    // A card behind the eyes is no card before them.
    if (line.z() > 0) return lost(LostReason::kInconsistent);
    // A bent card has its target elsewhere; how far is not seen from the front.
    const double bend = std::hypot(card->bend_across.value.mm(), card->bend_down.value.mm());
    const double card_sd = std::sqrt(card->covariance(5, 5)) + (IsBent(*card) ? bend : 0);
    sample.mode = TrackMode::kFace;
    sample.distance = UncertainLength{Length::Millimeters(reach),
                                      Length::Millimeters(std::hypot(head->sd_mm, card_sd))};
    const SharedUncertainty shared = Shared();
    sample.distance_shared_sd =
        Length::Millimeters(std::hypot(shared.relative_sd * reach, shared.offset_sd.mm()));
    sample.demand = Demand(target);
    return sample;
  }

  [[nodiscard]] SharedUncertainty Shared() const {
    SharedUncertainty out;
    out.relative_sd = std::hypot(profile.camera.focal_rel_sd, PrintOf(profile).sd);
    const auto& zero = profile.held_card->zero;
    const double placed = zero ? std::hypot(zero->sd.mm(), by_pd ? kSittingRelSd * head_mm : 0)
                               : ruler_rel_sd * head_mm;
    out.offset_sd = Length::Millimeters(std::hypot(placed, profile.target_sd.mm()));
    return out;
  }
};

HeldCardTracker::HeldCardTracker(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
HeldCardTracker::HeldCardTracker(HeldCardTracker&&) noexcept = default;
HeldCardTracker& HeldCardTracker::operator=(HeldCardTracker&&) noexcept = default;
HeldCardTracker::~HeldCardTracker() = default;

Result<HeldCardTracker> HeldCardTracker::Create(const Profile& profile,
                                                const std::string& landmark_file) {
  if (!profile.held_card) {
    return Fail(ErrorCode::kMismatch,
                "The profile is for leaning toward a fixed target; a held card needs \"setup\": "
                "\"held_card\" in it.");
  }
  auto finder = FaceFinder::Load(landmark_file);
  if (!finder) return tl::unexpected(finder.error());
  return HeldCardTracker(std::make_unique<Impl>(profile, *std::move(finder)));
}

Result<DistanceSample> HeldCardTracker::Process(const Frame& frame) {
  const CameraIntrinsics& camera = impl_->profile.camera;
  if (frame.bgr().cols != camera.width || frame.bgr().rows != camera.height) {
    return Fail(ErrorCode::kMismatch,
                "The picture is " + std::to_string(frame.bgr().cols) + "x" +
                    std::to_string(frame.bgr().rows) + " pixels, the profile was made for " +
                    std::to_string(camera.width) + "x" + std::to_string(camera.height) + ".");
  }
  return impl_->Process(frame);
}

std::optional<Eigen::Vector3d> HeldCardTracker::target_mm() const { return impl_->target_mm; }

std::optional<PrintAspect> HeldCardTracker::print_aspect() const { return impl_->aspect; }

SharedUncertainty HeldCardTracker::shared_uncertainty() const { return impl_->Shared(); }

}  // namespace nearpoint
