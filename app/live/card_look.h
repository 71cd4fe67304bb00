// What the vision thread tells the window about one picture while a calibration by the card runs.
#pragma once

#include <Eigen/Core>
#include <QImage>
#include <memory>
#include <optional>
#include <vector>

#include "calibration/card_view.h"
#include "calibration/face_touch.h"
#include "calibration/profile.h"
#include "vision/camera/frame.h"
#include "vision/card/find_pattern.h"
#include "vision/card/find_plain_card.h"
#include "vision/card/see_print.h"
#include "vision/core/distance_sample.h"
#include "vision/core/result.h"
#include "vision/pipeline/face_card_observer.h"
#include "vision/pipeline/held_card_tracker.h"

namespace nearpoint {

enum class CardTask {
  kPatternViews,  // the printed card in tilts: the camera
  kPlainViews,    // the same with a bank or library card
  kFace,          // the printed card on the face: the personal scale
  kPrint,         // the sheet with a real card on its place: the size of the print
  kTouch,         // the printed card brought to the bridge of the nose: the zero of a held card
};

struct CardLook {
  std::int64_t frame = 0;
  Time time{};
  double brightness = 0;  // as LiveFrame's
  QImage preview;         // likewise

  std::optional<CardView> card;  // kPatternViews, kPlainViews
  std::optional<NoPattern> no_pattern;
  std::optional<NoPlainCard> no_plain_card;
  FaceCardSeen face;                 // kFace
  PrintSeen print;                   // kPrint
  std::optional<TouchSample> touch;  // kTouch: card and eyes are seen
  std::optional<LostReason> lost;    // kTouch: why not; kNoCard where the eyes are seen
  // Corners of the card that was seen, in shares of the picture, not mirrored; empty: none.
  std::vector<Eigen::Vector2d> outline;
};

// Finds in each picture what the task asks for. Lives in the vision thread.
class CardLooker {
 public:
  // profile: its camera is that of the pictures; for kFace, kTouch and kPrint a measured one.
  // kTouch also uses the face and the card, and no zero of before. Errors: those of
  // FaceCardObserver::Create, of HeldCardTracker::Create, and of their models.
  [[nodiscard]] static Result<CardLooker> Create(CardTask task, const Profile& profile);
  // preview stays null. Errors: kMismatch as FaceCardObserver::Process.
  [[nodiscard]] Result<CardLook> Look(const Frame& frame);

 private:
  CardLooker(CardTask task, const CameraIntrinsics& camera) : task_(task), camera_(camera) {}
  CardTask task_;
  CameraIntrinsics camera_;
  std::optional<FaceCardObserver> observer_;
  std::optional<HeldCardTracker> held_card_;
};

}  // namespace nearpoint
