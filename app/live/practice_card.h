// The simulated patient who shows the card, for practising the calibration: in one tilt after the
// other, on the forehead, and brought to the nose.
#pragma once

#include "app/live/live.h"
#include "calibration/profile.h"

namespace nearpoint {

enum class PracticePace {
  kAsPeople,  // as fast as people are
  kAtOnce,    // as fast as the machine can draw; for tests
};

// known: what the practice has measured so far; the camera is the simulated person's own, so its
// size is taken from there where none was measured. Goes on until it is stopped.
[[nodiscard]] OpenLiveSource OpenCardPractice(CardTask task, Profile known,
                                              PracticePace pace = PracticePace::kAsPeople);

// The camera that the simulated person sits before, for whoever checks what a practice measured.
[[nodiscard]] CameraIntrinsics CardPracticeCamera();

}  // namespace nearpoint
