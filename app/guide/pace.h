// How fast somebody comes nearer, and whether that is the pace that was asked for.
#pragma once

#include <deque>
#include <optional>

#include "vision/core/distance_sample.h"
#include "vision/core/units.h"

namespace nearpoint {

enum class PaceVerdict {
  kUnknown,  // too little is known
  kGood,
  kTooFast,
  kTooSlow,   // hardly moves
  kWrongWay,  // moves the other way
};

struct PaceRules {
  // 10 to 20 mm/s is what is asked for; a trial is set aside above 30 (SegmentOptions), so the word
  // comes before that. Below 5 nobody is approaching.
  Speed wanted = Speed::MillimetersPerSecond(15);
  Speed too_fast = Speed::MillimetersPerSecond(25);
  Speed too_slow = Speed::MillimetersPerSecond(5);
  Time window = FromMilliseconds(700);
  // A verdict other than "good" must hold for so long before it is said.
  Time patience = FromMilliseconds(400);
};

struct Pace {
  std::optional<Speed> speed;  // of the asked movement: positive when it is made
  PaceVerdict verdict = PaceVerdict::kUnknown;
};

// The slope of a least-squares line through the distances of the last `window`.
class PaceMeter {
 public:
  explicit PaceMeter(const PaceRules& rules) : rules_(rules) {}
  void Clear();
  // toward: the asked movement is to come nearer; otherwise to go away.
  Pace Add(const DistanceSample& sample, bool toward);

 private:
  [[nodiscard]] std::optional<Speed> Slope() const;
  [[nodiscard]] PaceVerdict Judge(Speed speed) const;

  struct Point {
    Time time;
    double mm;
  };
  PaceRules rules_;
  std::deque<Point> points_;
  PaceVerdict candidate_ = PaceVerdict::kUnknown;
  PaceVerdict said_ = PaceVerdict::kUnknown;
  Time candidate_since_{};
};

}  // namespace nearpoint
