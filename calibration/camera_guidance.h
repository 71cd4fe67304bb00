// What a person is told while showing the card: which tilts and which parts of the picture are
// missing, and what to do next. Pure: a list of views in, words out.
#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "calibration/card_view.h"

namespace nearpoint {

// The side of the card that is nearer to the lens. Left and right are those of the person who holds
// the card toward the camera.
enum class CardTilt { kSquare, kUpperNear, kLowerNear, kLeftNear, kRightNear };
inline constexpr int kCardTiltCount = 5;

struct ViewSummary {
  CardTilt tilt = CardTilt::kSquare;
  double tilt_deg = 0;
  Eigen::Vector2d middle{0.5, 0.5};          // of the card, in shares of the picture, 0 to 1
  std::array<Eigen::Vector2d, 4> corners{};  // likewise
  double fill = 0;                           // the card's length in shares of the picture's width
};

// Tilt with the usual focal length of webcams (0.9 widths): right to a few degrees, which is enough
// to tell what to do.
[[nodiscard]] ViewSummary SummariseView(const CardView& view, int width, int height);

struct CameraGuidance {
  int views = 0;  // taken
  int wanted = 12;
  std::vector<CardTilt> tilts;  // that are missing, in the order in which to give them
  // Parts of the picture no card has reached: row by row, three by three; only the four corners and
  // the middle are asked for, because there distortion shows.
  std::array<bool, 9> missing{};
  bool complete = false;
  std::string next;  // one sentence: what to do now
};
// The parts are named as the person sees them in a mirrored preview: their own left is left.
[[nodiscard]] CameraGuidance GuideCamera(std::span<const ViewSummary> taken);

enum class ViewUse {
  kTake,
  kSame,      // too like one that is there
  kTooSmall,  // fills less than 18 % of the width
  kTooSteep,  // over 60 degrees: edges melt together
};
// Whether a further view helps. Stillness is not asked here.
[[nodiscard]] ViewUse JudgeView(std::span<const ViewSummary> taken, const ViewSummary& view);
[[nodiscard]] std::string_view ToText(ViewUse use);

// Whether the card stood still between two pictures: no corner moved by more than 0.3 % of the
// picture's width (4 px of 1280).
[[nodiscard]] bool HeldStill(const ViewSummary& before, const ViewSummary& now);

}  // namespace nearpoint
