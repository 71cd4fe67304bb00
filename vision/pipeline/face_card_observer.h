// One picture of a face with a card on it, reduced to what the personal scale is fitted to.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "calibration/face_fit.h"
#include "vision/camera/frame.h"
#include "vision/card/find_pattern.h"
#include "vision/pipeline/tracker.h"

namespace nearpoint {

// Why a picture does not count.
enum class NoFaceCard {
  kNoPattern,    // see `pattern`
  kFewMarkers,   // more than half of the card is covered or glossy
  kBent,         // the card is no plane
  kMisfit,       // the markers do not fit a card of this size: another print, another card
  kNoEyes,       // the eyes are not found, closed or hidden
  kTooFar,       // beyond 80 cm irises are a few pixels
  kTooNear,      // nearer than 25 cm the face does not fit the picture
};
[[nodiscard]] std::string_view ToText(NoFaceCard reason);

struct FaceCardSeen {
  std::optional<FaceCardView> view;
  std::optional<NoFaceCard> why;      // set exactly when there is no view
  std::optional<NoPattern> pattern;   // set with kNoPattern
  int markers = 0;
  double turn_deg = 0;  // of the card to the patient's left, for guidance; 0 without a view
};

class FaceCardObserver {
 public:
  // Errors: those of Tracker::Create and FaceFinder::Load.
  [[nodiscard]] static Result<FaceCardObserver> Create(const Profile& profile,
                                                       const TrackerModels& models);
  FaceCardObserver(FaceCardObserver&&) noexcept;
  FaceCardObserver& operator=(FaceCardObserver&&) noexcept;
  ~FaceCardObserver();

  // Frames in the order of their time. Errors: those of Tracker::Process.
  [[nodiscard]] Result<FaceCardSeen> Process(const Frame& frame);

 private:
  struct Impl;
  explicit FaceCardObserver(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace nearpoint
