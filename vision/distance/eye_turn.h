// How far each eye turns in the head, and how sure that is.
#pragma once

#include <Eigen/Core>

#include "vision/core/units.h"
#include "vision/distance/head_fit.h"
#include "vision/distance/head_model.h"

namespace nearpoint {

// A deviation in two parts, as for the distance (head_fit.h): what this frame's picture leaves
// open, and what the personal lengths make wrong alike in every frame of this person: a pupil
// distance that is believed 1 mm too large turns both eyes inward by about 5 degrees together, from
// the first frame to the last.
struct TurnDeviation {
  Angle measured;
  Angle shared;
};

struct EyeTurn {
  Angle inward;  // in the head frame, positive toward the nose
  Angle up;      // positive up
  Angle demand;  // what the target asks of this eye, in the sense of `inward`
  TurnDeviation inward_sd;
};

struct EyeTurns {
  EyeTurn left, right;
  Angle vergence, demand;  // sums of the two
  TurnDeviation vergence_sd;
  Angle lens_shift;  // see DistanceSample; zero where the lenses are known or none are worn
};

// model: the one that the fit was made with; target_mm: what the eyes are asked to look at, camera
// frame. Deviations are propagated to first order through the covariance of the fit; the turn of
// the head is part of each eye's and not of the vergence's. The eyes count as fixating: the prior
// holds back a part of a drift, which the deviation does not hold.
[[nodiscard]] EyeTurns EyeTurnsOf(const HeadFit& fit, const HeadModel& model,
                                  const Eigen::Vector3d& target_mm);

}  // namespace nearpoint
