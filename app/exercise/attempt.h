// One try at a repetition: what the eyes did, what the person said, and whether it counts.
#pragma once

#include <optional>
#include <string_view>

#include "app/measure/drifting_eye.h"
#include "vision/core/units.h"

namespace nearpoint {

// What the person says of the pair of figures.
enum class FusionReport {
  kFused,        // one figure between two
  kApart,        // not one any more
  kMarkMissing,  // one figure, but the mark of one half is not in it
};
[[nodiscard]] std::string_view ToText(FusionReport report);  // "fused", "apart", "mark_missing"

enum class NotCounted {
  kOnlyHandMoved,  // reported, and the eyes stayed on the screen
  kNotFarEnough,   // the eyes turned in, but not to where the figures fall together
  kTooNear,        // the eyes turned in farther than that
  kOneEyeStayed,   // one eye turned in and the other did not, or left off
  kOneEyeHidden,   // one eye was not in the picture
  kMarkMissing,    // the person saw only one mark
  kNotReported,    // the eyes were there and nothing was reported
  kNotHeld,        // not held as long as planned
  kNotSeen,        // the camera lost the eyes
  kStopped,        // ended by the person
};
// The word of a file: "only_hand_moved".
[[nodiscard]] std::string_view ToText(NotCounted why);
[[nodiscard]] std::optional<NotCounted> ParseNotCounted(std::string_view word);
// One plain English sentence for the person.
[[nodiscard]] std::string_view Sentence(NotCounted why);

struct Attempt {
  int number = 0;  // from 1, in order
  Time start{}, end{};
  Length separation;               // of the pair shown
  Length asked;                    // where the eyes should cross, from the corneal plane
  std::optional<NotCounted> why;   // nullopt: it counts
  double held_s = 0;               // the longest hold without a break
  std::optional<double> fusing_s;  // from the start to the beginning of that hold
  // The nearest crossing of the lines of sight kept up for a second, from the corneal plane, by the
  // camera. The deviation is of this attempt alone; what the person's gain and pupil distance add
  // is the same in all of them.
  std::optional<UncertainLength> reach;
  Length reach_shared_sd;
  std::optional<DriftingEye> eye;  // that stayed or left off, where it is sure
  [[nodiscard]] bool counted() const { return !why.has_value(); }
};

}  // namespace nearpoint
