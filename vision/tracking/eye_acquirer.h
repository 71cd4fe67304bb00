// Finds both eyes in a picture of which nothing is known: by the face where it is whole, by the
// eyes alone where it is not.
#pragma once

#include <cstdint>
#include <optional>

#include "vision/distance/head_fit.h"
#include "vision/face/eye_net.h"
#include "vision/face/face_finder.h"
#include "vision/tracking/channels.h"
#include "vision/tracking/pose_prior.h"
#include "vision/tracking/scene.h"
#include "vision/tracking/seen_eyes.h"

namespace nearpoint {

// Nearer than this, landmarks are too coarse to refute what was taken for irises.
inline constexpr double kFaceTellsBeyondMm = 200;

class EyeAcquirer {
 public:
  explicit EyeAcquirer(FaceFinder finder);

  // Corners and irises of a whole face. careful: a finer search, four times as slow, where the
  // coarse one finds none. box_seen: whether there is a face, whatever becomes of its eyes.
  [[nodiscard]] std::optional<HeadFit> ByFace(const Scene& scene, Channels& picture, bool careful,
                                              SeenEyes* seen, bool* box_seen);
  // The same in a box that is known.
  [[nodiscard]] std::optional<HeadFit> InBox(const Scene& scene, Channels& picture,
                                             const FaceBox& box, SeenEyes* seen);
  // Two eyes without a face. before: the head as it was last seen.
  [[nodiscard]] std::optional<HeadFit> ByEyes(const Scene& scene, Channels& picture,
                                              const std::optional<SeenBefore>& before,
                                              SeenEyes* seen);

  // Adds the landmarks of a face in this box, about depth_mm from the lens.
  void SeeLandmarks(const Scene& scene, Channels& picture, const FaceBox& box, double depth_mm,
                    SeenEyes* seen);
  [[nodiscard]] FaceBox BoxFrom(const Landmarks& landmarks) const;

  struct Counters {
    std::int64_t face_searches = 0;
    std::int64_t eye_searches = 0;
    std::int64_t landmark_fits = 0;
  };
  [[nodiscard]] const Counters& counters() const { return counters_; }

 private:
  [[nodiscard]] std::optional<HeadFit> FromPair(const Scene& scene, Channels& picture,
                                                const FoundPair& pair,
                                                const std::optional<SeenBefore>& before,
                                                SeenEyes* seen) const;

  FaceFinder finder_;
  Counters counters_;
};

}  // namespace nearpoint
