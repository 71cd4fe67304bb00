// The irises (and landmarks) of one frame, and the head that they fit.
#pragma once

#include <optional>

#include "vision/distance/head_fit.h"
#include "vision/eyes/limbus_fit.h"
#include "vision/face/face_finder.h"
#include "vision/tracking/channels.h"
#include "vision/tracking/scene.h"

namespace nearpoint {

struct SeenEyes {
  HeadObservation observation;
  std::optional<LimbusFit> left, right;
  std::optional<Landmarks> landmarks;
  // What the lids do, of each eye that should be in the picture.
  std::optional<EyeReading> left_reading, right_reading;
  // Where both look beside the target, when they clearly do: toward the patient's left, and up.
  struct Gaze {
    double left_rad = 0, up_rad = 0;
  };
  std::optional<Gaze> gaze;

  [[nodiscard]] bool Both() const { return left && right; }
};

// The least log odds of a reading for which an eye is looked at, and for which one that was not
// followed counts as an eye.
inline constexpr double kMayBeAnEye = -1.0, kSurelyAnEye = 1.5;

enum class LidState {
  kNoEye,  // covered, or something else
  kShut,
  kHalf,  // they leave too little of the limbus to measure it
  kOpen
};
[[nodiscard]] LidState LidsOf(const EyeReading& reading);

// Where a head so posed shows the middle between the corners of an eye.
[[nodiscard]] Eigen::Vector2d OpeningPx(const Scene& scene, const HeadPose& pose, bool left);

// What is known of the irises of a head that is followed.
struct FollowedIrises {
  double contrast = 0;
  // Eyes that were read a frame ago: read again only where their limbus does not go on as it was.
  bool left_read = false, right_read = false;
};

// Adds the irises found about where a head so posed would show them. search: how far about, in
// semi-major axes. followed: what is found must then continue them.
void SeeIrises(const Scene& scene, Channels& picture, const HeadPose& expected, double search,
               const std::optional<FollowedIrises>& followed, SeenEyes* seen);

// The fit with contradictions removed: an iris without which everything else, what is expected of
// the head included, agrees far better locked on to something else. Where it should be is then
// known well, and it is looked for once more there. nullopt when nothing fits.
[[nodiscard]] std::optional<HeadFit> FitReconciled(const Scene& scene, Channels& picture,
                                                   PosePrior prior, SeenEyes* seen);

// From rough measurements in `seen`, or from the prior alone, to exact ones: fit, look again where
// the fit says, fit again.
[[nodiscard]] std::optional<HeadFit> Settle(const Scene& scene, Channels& picture, PosePrior prior,
                                            double search, SeenEyes* seen);

}  // namespace nearpoint
