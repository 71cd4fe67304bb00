#include "app/exercise/attempt.h"

#include <array>

namespace nearpoint {
namespace {

struct Words {
  NotCounted why;
  std::string_view word;
  std::string_view sentence;
};

constexpr std::array kWords = {
    Words{NotCounted::kOnlyHandMoved, "only_hand_moved",
          "The camera did not see the eyes turn in."},
    Words{NotCounted::kNotFarEnough, "not_far_enough",
          "The camera saw the eyes turn in less than the pair asks for."},
    Words{NotCounted::kTooNear, "too_near",
          "The camera saw the eyes turn in more than the pair asks for."},
    Words{NotCounted::kOneEyeStayed, "one_eye_stayed",
          "The eyes did not stay on it together to the end."},
    Words{NotCounted::kOneEyeHidden, "one_eye_hidden", "The camera could see only one eye."},
    Words{NotCounted::kMarkMissing, "mark_missing", "You saw only one of the two marks."},
    Words{NotCounted::kNotReported, "not_reported", "You did not say that the figures were one."},
    Words{NotCounted::kNotHeld, "not_held", "The figures were not held as one for long enough."},
    Words{NotCounted::kNotSeen, "not_seen", "The camera lost sight of your eyes."},
    Words{NotCounted::kStopped, "stopped", "You stopped before the end."},
};

}  // namespace

std::string_view ToText(FusionReport report) {
  switch (report) {
    case FusionReport::kFused:
      return "fused";
    case FusionReport::kApart:
      return "apart";
    case FusionReport::kMarkMissing:
      return "mark_missing";
  }
  return "";
}

std::string_view ToText(NotCounted why) {
  for (const Words& w : kWords) {
    if (w.why == why) return w.word;
  }
  return "";
}

std::optional<NotCounted> ParseNotCounted(std::string_view word) {
  for (const Words& w : kWords) {
    if (w.word == word) return w.why;
  }
  return std::nullopt;
}

std::string_view Sentence(NotCounted why) {
  for (const Words& w : kWords) {
    if (w.why == why) return w.sentence;
  }
  return "";
}

}  // namespace nearpoint
