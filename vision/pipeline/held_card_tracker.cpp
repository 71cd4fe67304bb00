#include "vision/pipeline/held_card_tracker.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "vision/card/card_pattern.h"
#include "vision/card/find_pattern.h"
#include "vision/distance/head_fit.h"
#include "vision/pipeline/card_placement.h"

namespace nearpoint {
namespace {

// A head that is told to keep still wanders by this much in a second (common practice, no source).
constexpr double kWanderMm = 6;
constexpr Time kHiddenFor = std::chrono::seconds(1);
constexpr Time kForgetAfter = std::chrono::seconds(2);
constexpr double kJumpDeviations = 5;  // then the head has moved, or the tracker found another place

// The middle between the corneas, carried from frame to frame.
struct Eyes {
  Eigen::Vector3d mid_mm;
  double variance_mm2 = 0;  // along the line of sight, the worst direction
  Time time{}, seen{};
  std::optional<HeadAngles> head;
};

}  // namespace

struct HeldCardTracker::Impl {
  Profile profile;
  Tracker tracker;
  std::optional<Eyes> eyes;
  double head_mm = 500;  // last known distance of the head from the lens

  Impl(const Profile& p, Tracker t) : profile(p), tracker(std::move(t)) {}

  void Follow(const DistanceSample& sample) {
    if (eyes && (sample.time - eyes->time > kForgetAfter || sample.time < eyes->time)) eyes.reset();
    if (eyes) {
      eyes->variance_mm2 += kWanderMm * kWanderMm * ToSeconds(sample.time - eyes->time);
      eyes->time = sample.time;
    }
    if (!sample.eye_mid_mm || !sample.left_eye || !sample.right_eye) {
      if (eyes && sample.time - eyes->seen > kHiddenFor) eyes.reset();
      return;
    }
    const double sd = std::max(0.5, sample.distance->sd.mm());
    const double off = eyes ? (*sample.eye_mid_mm - eyes->mid_mm).norm() : 0;
    if (!eyes || off > kJumpDeviations * std::sqrt(eyes->variance_mm2 + sd * sd)) {
      eyes = Eyes{*sample.eye_mid_mm, sd * sd, sample.time, sample.time, sample.head};
    } else {
      const double gain = eyes->variance_mm2 / (eyes->variance_mm2 + sd * sd);
      eyes->mid_mm += gain * (*sample.eye_mid_mm - eyes->mid_mm);
      eyes->variance_mm2 *= 1 - gain;
      eyes->seen = sample.time;
      eyes->head = sample.head;
    }
    head_mm = eyes->mid_mm.norm();
  }

  // What the card's target asks of the two eyes.
  [[nodiscard]] std::optional<Angle> Demand(const Eigen::Vector3d& target) const {
    if (!eyes->head) return std::nullopt;
    HeadPose pose;
    pose.yaw_rad = eyes->head->yaw.rad();
    pose.pitch_rad = eyes->head->pitch.rad();
    pose.roll_rad = eyes->head->roll.rad();
    pose.mid_in_camera_mm = eyes->mid_mm;
    const Eigen::Matrix3d head_from_camera = CameraFromHead(pose).transpose();
    Angle sum;
    for (const bool left : {true, false}) {
      const EyeInCamera eye = EyeOf(pose, tracker.personal().mean, target, left);
      const Eigen::Vector3d d = head_from_camera * (target - eye.centre_of_rotation_mm);
      sum = sum + Angle::Radians((left ? -1 : 1) * std::atan2(d.x(), d.z()));
    }
    return sum;
  }

  Result<DistanceSample> Process(const Frame& frame) {
    auto sample = tracker.Process(frame);
    if (!sample) return sample;
    Follow(*sample);
    sample->distance.reset();
    sample->distance_shared_sd.reset();
    sample->regime_difference.reset();
    sample->demand.reset();
    if (!eyes) {
      sample->mode = TrackMode::kLost;
      if (!sample->why) sample->why = LostReason::kEyesHidden;
      sample->eye_mid_mm.reset();
      return sample;
    }
    const auto lost = [&](LostReason why) {
      sample->mode = TrackMode::kLost;
      sample->why = why;
      return sample;
    };
    const auto pattern = FindPattern(frame.bgr());
    if (!pattern) return lost(LostReason::kNoCard);
    const auto card = PlaceCard(*pattern, profile.camera);
    if (!card) return lost(LostReason::kNoCard);
    const HeldCardSetup& setup = *profile.held_card;
    const Eigen::Vector3d target = card->ToCamera(setup.target_in_card_mm);
    const Eigen::Vector3d line = target - eyes->mid_mm;
    const double zero = setup.zero ? setup.zero->value.mm() : 0;
    const double distance = line.norm() - zero;
    // The markers stand before the head or the answer is nonsense.
    if (distance < 0 || line.z() > 0) return lost(LostReason::kInconsistent);
    // A bent card has its target elsewhere; how far is not seen from the front.
    const double bend =
        std::hypot(card->bend_across.value.mm(), card->bend_down.value.mm());
    const double card_sd = std::sqrt(card->covariance(5, 5)) + (IsBent(*card) ? bend : 0);
    sample->mode = TrackMode::kFace;
    sample->why.reset();
    sample->eye_mid_mm = eyes->mid_mm;
    sample->head = eyes->head;
    sample->distance = UncertainLength{
        Length::Millimeters(distance),
        Length::Millimeters(std::sqrt(eyes->variance_mm2 + card_sd * card_sd))};
    const SharedUncertainty shared = Shared();
    sample->distance_shared_sd =
        Length::Millimeters(std::hypot(shared.relative_sd * distance, shared.offset_sd.mm()));
    sample->demand = Demand(target);
    return sample;
  }

  [[nodiscard]] SharedUncertainty Shared() const {
    SharedUncertainty out;
    out.relative_sd = std::hypot(profile.camera.focal_rel_sd, kCardRelativeSd);
    const double face = tracker.shared_uncertainty().relative_sd * head_mm;
    const auto& zero = profile.held_card->zero;
    out.offset_sd =
        Length::Millimeters(std::hypot(zero ? zero->sd.mm() : face, profile.target_sd.mm()));
    return out;
  }
};

HeldCardTracker::HeldCardTracker(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
HeldCardTracker::HeldCardTracker(HeldCardTracker&&) noexcept = default;
HeldCardTracker& HeldCardTracker::operator=(HeldCardTracker&&) noexcept = default;
HeldCardTracker::~HeldCardTracker() = default;

Result<HeldCardTracker> HeldCardTracker::Create(const Profile& profile,
                                                const TrackerModels& models) {
  if (!profile.held_card) {
    return Fail(ErrorCode::kMismatch,
                "The profile is for leaning toward a fixed target; a held card needs \"setup\": "
                "\"held_card\" in it.");
  }
  // The tracker's own target is only where it expects the eyes to look: near the lens, where the
  // card comes from.
  Profile of_tracker = profile;
  of_tracker.target_mm = Eigen::Vector3d::Zero();
  auto tracker = Tracker::Create(of_tracker, models);
  if (!tracker) return tl::unexpected(tracker.error());
  return HeldCardTracker(std::make_unique<Impl>(profile, *std::move(tracker)));
}

Result<DistanceSample> HeldCardTracker::Process(const Frame& frame) {
  return impl_->Process(frame);
}

SharedUncertainty HeldCardTracker::shared_uncertainty() const { return impl_->Shared(); }

}  // namespace nearpoint
