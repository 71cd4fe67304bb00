// A graded set of pairs for one person in front of one screen or one sheet of paper.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

// The person and the plane the pairs stand in. Deviations are one standard deviation, >= 0.
struct PairView {
  UncertainLength pupils;  // pupil distance for far, > 0
  UncertainLength screen;  // from the midpoint of the centres of rotation to the plane of the pairs
};

// What carries the pairs. For paper, mm_per_dot is the printer's step.
struct PairSurface {
  double mm_per_dot = 0;  // > 0, the same across and down
  Length width;           // usable for both figures, edge to edge
};

struct LevelLimits {
  Length figure;  // width of one figure, > 0. Below it the two halves of a pair overlap
  // The least extra convergence worth a level: smaller steps are within what the eyes do anyway and
  // cannot be told from none by the camera (tests/bench/exercise_counts).
  Angle least_extra = Angle::Degrees(7);
  // The nearest fixation, from the centres of rotation: nearer a fingertip is no target any more.
  Length nearest = Length::Millimeters(55);
  // One dot must not change the fusion distance by more than this share of it.
  double greatest_dot_share = 0.05;
};

struct PairLevel {
  int number = 0;            // from 1, the farthest and easiest
  Length asked;              // fixation distance that was asked for, from the corneal plane
  int separation_dots = 0;   // centre to centre
  Length separation;         // the same in millimetres: what is really shown
  UncertainLength fixation;  // where the eyes cross for it, from the corneal plane
  Angle angle;               // between the lines of sight
  Angle extra;               // beyond looking at the screen
  PrismDiopters demand, extra_demand;
};

// One level for a fixation distance from the corneal plane. Errors (kBadValue), each naming what is
// too much: farther than the screen or not enough beyond it, nearer than `nearest`, wider than the
// surface, halves overlapping, dots too coarse, or a number in `view` or `surface` that cannot be.
[[nodiscard]] Result<PairLevel> MakeLevel(const PairView& view, const PairSurface& surface,
                                          const LevelLimits& limits, Length fixation_from_cornea);

struct GradedLevels {
  std::vector<PairLevel> levels;   // from far to near, numbered from 1
  std::vector<std::string> notes;  // one sentence for each distance that could not be had
};

// A level for each distance that can be shown; the others are named. Distances that come out at the
// same number of dots make one level. Error kInsufficient when none can be shown.
[[nodiscard]] Result<GradedLevels> MakeLevels(const PairView& view, const PairSurface& surface,
                                              const LevelLimits& limits,
                                              std::span<const Length> fixations_from_cornea);

// The distances, from the corneal plane, of `count` >= 1 levels between the easiest and the hardest
// that can be shown here, with equal steps of the demand in prism dioptres. Empty when there is
// none.
[[nodiscard]] std::vector<Length> EvenDistances(const PairView& view, const PairSurface& surface,
                                                const LevelLimits& limits, int count);

// How large a figure must be to be recognised: `angle` at the distance, and at least two dots.
[[nodiscard]] Length VisibleDetail(const PairView& view, const PairSurface& surface, Angle angle);

}  // namespace nearpoint
