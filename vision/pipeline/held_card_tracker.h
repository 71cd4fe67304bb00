// The held-card set-up: the face stays 40 to 60 cm before the camera and the card comes to the
// nose, markers toward the camera, fixation target on the other side. The distance is from that
// target to the corneal midpoint, both in the one camera frame.
#pragma once

#include <Eigen/Core>
#include <memory>
#include <optional>
#include <string>

#include "calibration/print_check.h"
#include "calibration/profile.h"
#include "vision/camera/frame.h"
#include "vision/core/distance_sample.h"
#include "vision/pipeline/tracker.h"

namespace nearpoint {

// The head and the card are each 40 to 60 cm away, and the distance is the small difference: a
// scale of the face that is wrong by 1 % places the head 5 mm wrong along its line of sight, by the
// same wherever the card is. That is what the zero touch takes away (profile.held_card->zero). A
// focal length that is wrong moves both alike and leaves only its fraction of the small distance.
class HeldCardTracker {
 public:
  // profile.held_card must be set. landmark_file: dlib's 68-point shape predictor. Errors:
  // kMismatch without held_card, and those of FaceFinder::Load.
  [[nodiscard]] static Result<HeldCardTracker> Create(const Profile& profile,
                                                      const std::string& landmark_file);
  HeldCardTracker(HeldCardTracker&&) noexcept;
  HeldCardTracker& operator=(HeldCardTracker&&) noexcept;
  ~HeldCardTracker();

  // Frames in the order of their time; after a gap of two seconds nothing is known of those before.
  // `why` is kNoCard where the eyes are seen and the card is not, kTooDark where the head is placed
  // too poorly to tell a distance (kPoorestHead) and the picture is mostly noise. While the card or
  // a blink hides the eyes the head counts as where it was for a second, with a growing deviation.
  // Errors: kMismatch when the frame has not the camera's size.
  [[nodiscard]] Result<DistanceSample> Process(const Frame& frame);

  // The card's target in the last picture, camera frame; nullopt without a card.
  [[nodiscard]] std::optional<Eigen::Vector3d> target_mm() const;

  // How the card's print in the last picture is stretched; nullopt without a card, or where its
  // corners hardly tell.
  [[nodiscard]] std::optional<PrintAspect> print_aspect() const;

  // relative_sd: of the distance itself (focal length, print). offset_sd: the zero and how a head
  // is turned from one sitting to the next, or without a zero the scale of the face at the distance
  // of the head.
  [[nodiscard]] SharedUncertainty shared_uncertainty() const;

 private:
  struct Impl;
  explicit HeldCardTracker(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace nearpoint
