// The simulated patient in place of the camera, for practising. It waits at its place until it is
// told to begin a trial, performs it, and waits again.
#pragma once

#include <functional>

#include "app/live/live.h"
#include "vision/simulate/patient.h"

namespace nearpoint {

struct PracticeOptions {
  simulate::PatientOptions patient;
  // True: as fast as people are. False: as fast as the machine can; for tests.
  bool real_time = true;
  // False: the patient's own presses are not played; whoever sits at the keyboard presses.
  bool presses = true;
};

// An adult before an ordinary webcam whose near point is farther than most.
[[nodiscard]] PracticeOptions DefaultPractice();

[[nodiscard]] OpenLiveSource OpenPractice(PracticeOptions options);

}  // namespace nearpoint
