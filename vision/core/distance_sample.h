// What the tracker says about one frame. Made once by the tracker, never changed; everything later
// reads only this.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <optional>
#include <string_view>

#include "vision/core/units.h"

namespace nearpoint {

enum class TrackMode {
  kFace,  // far regime: the whole face is in view
  kEyes,  // near regime: the eyes alone carry the distance
  kLost,  // nothing is claimed; `why` says the reason
};

enum class LostReason {
  kNoFace,          // nothing that looks like a face or a pair of eyes
  kEyesClosed,      // a blink, or lids held shut
  kEyesHalfClosed,  // the lids leave too little of the irises to be seen
  kEyesHidden,      // something covers the eyes, or glare hides both irises
  kTooFar,          // the irises are a few pixels wide
  kTooClose,        // nearer than this regime can measure
  kHeadTurned,      // the head is turned beyond what the geometry allows
  kNoCard,          // the held card is not seen, or its pattern cannot be read
  kInconsistent,    // the rulers contradict each other by more than their deviations allow
  kTooDark,         // the eyes are seen, but too darkly for a distance that can be believed
};

// The `why` text of the file contract.
[[nodiscard]] constexpr std::string_view ToText(LostReason reason) {
  switch (reason) {
    case LostReason::kNoFace:
      return "no face and no eyes found";
    case LostReason::kEyesClosed:
      return "eyes closed";
    case LostReason::kEyesHalfClosed:
      return "eyes half closed";
    case LostReason::kEyesHidden:
      return "eyes hidden";
    case LostReason::kTooFar:
      return "too far for the camera";
    case LostReason::kTooClose:
      return "too close for the camera";
    case LostReason::kHeadTurned:
      return "head turned too far";
    case LostReason::kNoCard:
      return "the card is not seen";
    case LostReason::kInconsistent:
      return "measurements disagree";
    case LostReason::kTooDark:
      return "too dark to measure";
  }
  return "";
}

// Rotation of one eye in the head frame. Horizontal positive toward the nose, vertical positive up.
struct EyeRotation {
  Angle horizontal;
  Angle vertical;
  Angle horizontal_sd;
};

struct EyeSample {
  Eigen::Vector2d iris_px;   // centre of the limbus ellipse, in the (distorted) image as captured
  double iris_major_px = 0;  // full length of the ellipse's major axis
  std::optional<EyeRotation> rotation;
};

// Turn of the head, applied in the order pitch, yaw, roll; all zero when the face looks along the
// lens axis. Yaw positive to the patient's left, pitch positive down (nodding), roll positive
// toward the patient's right shoulder.
struct HeadAngles {
  Angle yaw, pitch, roll;
};

// Power of a spectacle lens along the eye line, as believed when the frame was seen.
struct LensEstimate {
  double diopters = 0;
  double sd_diopters = 0;  // one standard deviation
};

struct DistanceSample {
  std::int64_t frame = 0;
  Time time{};
  TrackMode mode = TrackMode::kLost;
  std::optional<LostReason> why;              // set exactly when mode is kLost
  std::optional<Eigen::Vector3d> eye_mid_mm;  // midpoint of the corneal apices, camera frame
  // Target point to that midpoint. The deviation is of this frame's picture. What is wrong alike in
  // all frames (the profile's own uncertainty, landmarks that are off by the same in one person)
  // stands apart: it does not average out.
  std::optional<UncertainLength> distance;
  std::optional<Length> distance_shared_sd;
  // Where both regimes see the head: distance with all rulers less distance with the eyes alone. It
  // is part of the deviation from there on.
  std::optional<Length> regime_difference;
  std::optional<EyeSample> left_eye, right_eye;
  // Sum of the two horizontal rotations. The deviation is of this frame's picture; what a wrong
  // pupil distance shifts alike in all frames of a person stands apart, as for the distance.
  std::optional<Angle> vergence, vergence_sd, vergence_shared_sd;
  std::optional<Angle> demand;  // what the target asks of these eyes, in the same sense
  std::optional<HeadAngles> head;
  // Where glasses are worn.
  std::optional<LensEstimate> left_lens, right_lens;
  // What vergence less demand would be more, were both lenses one deviation more plus.
  std::optional<Angle> lens_shift;
};

}  // namespace nearpoint
