// Finds the moment when one eye leaves the path that the target asks of it, and the moment when it
// takes it up again: a Bayesian change-point test over the whole trial.
//
// Model, in degrees: vergence(t) - demand(t) = offset + gain error * demand + head terms
//     + wander(t) + noise(t) - x r(t; onset, ramp) + x' r(t; return, ramp),
// where r is 0 before its start, 1 after its end and rises between (straight or smoothly), the
// wander is an Ornstein-Uhlenbeck process, and x' equals x but for an eye that settles elsewhere.
// Offset, gain and head terms have normal priors and are integrated out, so the learning in the far
// part and the test are one computation: before the onset the eyes follow the demand, and what that
// teaches holds after it. x has a normal prior and is integrated out; the Bayes factor against "no
// drift" is averaged over all pairs of onset and return (Adams & MacKay 2007 treat the sequential
// form; offline and with one excursion the sum is short enough to be done in full).
#pragma once

#include <optional>

#include "app/measure/drifting_eye.h"
#include "app/measure/vergence_trace.h"
#include "vision/core/units.h"

namespace nearpoint {

// A change of the vergence that began at a moment.
struct VergenceChange {
  double time_s = 0;  // of the trace: its onset, not its end
  double time_sd_s = 0;
  Angle size;  // positive: outward at the break, inward at the return
  Angle size_sd;
  Time ramp{};  // from onset to end
};

struct DriftFinding {
  // Log of the averaged Bayes factor for a drift against none; large is sure.
  double log_evidence = 0;
  bool found = false;
  VergenceChange drift;                    // set when found
  std::optional<VergenceChange> recovery;  // nullopt: still out at the end of the trial
  DriftingEye eye = DriftingEye::kUnclear;
  double eye_probability = 0;  // of the eye named; of the likeliest when unclear
  // The change looked like a glance: the mean direction of the eyes moved by more than one drifting
  // eye moves it. Then found is false.
  bool glance = false;
  // The change was no larger than what the tracker states it may be wrong by where the eye was out
  // (DriftOptions::sure_deviations), or was seen out for less than `least_duration`. Then found is
  // false.
  bool within_error = false;
  // The smallest drift that would have been found with even odds at the nearest point. nullopt when
  // nothing up to 20 degrees would have been.
  std::optional<Angle> smallest_visible;
};

struct DriftOptions {
  // Normal prior of the drift's size, wide enough for anything from a small to a large deviation.
  // Below `smallest` nothing is called a drift: the tracker's own wander makes steps of 2 degrees.
  Angle usual_size = Angle::Degrees(7);
  Angle size_spread = Angle::Degrees(4);
  Angle smallest = Angle::Degrees(3);
  // How far the return may differ from the drift: the eye settles, the wander continues.
  Angle return_differs = Angle::Degrees(2);
  // An excursion shorter than this is a flick, not a loss of fusion; its frames are left out and
  // the search begins again. For so long the eye must also be seen out, gaps not counted.
  Time least_duration = FromMilliseconds(600);
  Time shortest_ramp = FromMilliseconds(150);
  Time longest_ramp = FromMilliseconds(650);
  // What the tracker gets wrong about eyes that are strongly turned in, it gets wrong alike in all
  // frames of that distance and may get right again a little farther away, which looks like a drift
  // and its return. So nothing is called a drift that is not larger than this many of its stated
  // deviations (two: what 95 % of errors stay within).
  double sure_deviations = 2;
  // Frames at the start that must exist before a drift can be seen.
  Time least_before = FromMilliseconds(700);
  double gain_sd = 0.15;  // prior of the person's own gain about 1
  Angle offset_sd = Angle::Degrees(6);
  // Log evidence from which a drift is called. Chosen for false alarms: of 600 simulated trials
  // without a drift none came above -1 (tests/bench/drift_roc); the margin is for trackers that err
  // in ways the simulation does not know.
  double threshold = 3;
  double eye_certain = 0.9;  // probability from which the eye is named
};

// Too short a trace gives found = false, log_evidence 0 and no smallest_visible.
[[nodiscard]] DriftFinding FindDrift(const VergenceTrace& trace, const DriftOptions& options = {});

}  // namespace nearpoint
