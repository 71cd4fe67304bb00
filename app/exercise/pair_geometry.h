// Two like figures side by side, and where the eyes must cross for the figures to fall together.
//
// Seen from above: the eyes turn about two points, p apart. The figures stand s apart at the
// distance D from those points. While the eyes fixate nearer than D, each eye's line of sight goes
// on past the fixation point and meets the far plane on the other side: the right eye looks at the
// left figure. That is crossed viewing of the pair, and the lines cross at d = D p / (p + s) by
// similar triangles. What stands behind the fixation point is meanwhile seen double and uncrossed:
// the right eye's image of it lies to the right.
//
// All distances here are from the midpoint of the two centres of rotation, on the midline; Length
// from the corneal plane is shorter by kCorneaToRotation (app/measure/convergence.h).
#pragma once

#include "vision/core/units.h"

namespace nearpoint {

// p > 0, screen > 0 everywhere below; separations >= 0.

// Where the eyes must cross so that figures `separation` apart fall together.
[[nodiscard]] Length FusionDistance(Length pupils, Length separation, Length screen);

// How far apart the figures must stand for the eyes to cross at `fixation`, in (0, screen]:
// s = p (D - d) / d. It is also how far apart the two images of one thing at D are while the eyes
// fixate at d.
[[nodiscard]] Length PairSeparation(Length pupils, Length fixation, Length screen);

// What the fused pair asks of the eyes: the angle between the two lines of sight,
// 2 atan((p + s) / 2D), and the sum of the two eyes' tangents, 100 (p + s) / D.
[[nodiscard]] Angle PairAngle(Length pupils, Length separation, Length screen);
[[nodiscard]] PrismDiopters PairDemand(Length pupils, Length separation, Length screen);
// Beyond what one figure at D asks; in prism dioptres 100 s / D, whatever the pupil distance.
[[nodiscard]] Angle ExtraAngle(Length pupils, Length separation, Length screen);
[[nodiscard]] PrismDiopters ExtraDemand(Length separation, Length screen);

// The distance at which two lines of sight cross that enclose `vergence` > 0: p / (2 tan(v / 2)).
[[nodiscard]] Length CrossingDistance(Length pupils, Angle vergence);

// One standard deviation of the fusion distance from those of p and D, taken as independent:
// dd/dp = D s / (p + s)^2, dd/dD = p / (p + s).
[[nodiscard]] UncertainLength FusionDistance(UncertainLength pupils, Length separation,
                                             UncertainLength screen);

// Where something at the far plane appears to each eye while both fixate nearer, in millimetres of
// that plane to the person's right of where it stands. Uncrossed: the right eye's is positive.
struct DoubleImage {
  Length right_eye, left_eye;
};
[[nodiscard]] DoubleImage FarImages(Length pupils, Length fixation, Length screen);

}  // namespace nearpoint
