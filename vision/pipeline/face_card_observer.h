// One picture of a face with a card on it, reduced to what the personal scale is fitted to.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "calibration/face_fit.h"
#include "vision/camera/frame.h"
#include "vision/card/find_pattern.h"
#include "vision/core/result.h"

namespace nearpoint {

// Why a picture does not count.
enum class NoFaceCard {
  kNoPattern,   // see `pattern`
  kFewMarkers,  // too little of the pattern can be read: covered, glossy, blurred, too small
  kBent,        // the card is no plane
  kMisfit,      // the markers do not fit a card of this size: another print, another card
  kNoEyes,      // the eyes are not found, closed or hidden
  kTooFar,      // beyond 80 cm irises are a few pixels
  kTooNear,     // nearer than 25 cm the face does not fit the picture
};
[[nodiscard]] std::string_view ToText(NoFaceCard reason);

struct FaceCardSeen {
  std::optional<FaceCardView> view;
  std::optional<NoFaceCard> why;     // set exactly when there is no view
  std::optional<NoPattern> pattern;  // set with kNoPattern
  int markers = 0;
  double turn_deg = 0;  // of the card to the patient's left, for guidance; 0 without a view
};

struct FaceCardModels {
  std::string landmark_file;    // dlib's 68-point shape predictor
  std::string lid_corner_file;  // see vision/eyes/lid_corner.h
};

// Nothing is assumed of the person: the card says how large an iris must be, so an unusual face is
// not measured with the eyes of the population.
class FaceCardObserver {
 public:
  // Errors: those of FaceFinder::Load and LidCornerFinder::Load.
  [[nodiscard]] static Result<FaceCardObserver> Create(const CameraIntrinsics& camera,
                                                       const FaceCardModels& models);
  FaceCardObserver(FaceCardObserver&&) noexcept;
  FaceCardObserver& operator=(FaceCardObserver&&) noexcept;
  ~FaceCardObserver();

  // Frames in the order of their time. Errors: kMismatch when the frame has not the camera's size.
  [[nodiscard]] Result<FaceCardSeen> Process(const Frame& frame);

 private:
  struct Impl;
  explicit FaceCardObserver(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace nearpoint
