// The simulated patient in place of the camera, for practising. It waits at its place until it is
// told to begin a trial, performs it, and waits again.
#pragma once

#include <functional>
#include <optional>

#include "app/live/live.h"
#include "vision/simulate/patient.h"

namespace nearpoint {

struct PracticeOptions {
  simulate::PatientOptions patient;
  // True: as fast as people are. False: as fast as the machine can; for tests.
  bool real_time = true;
  // False: the patient's own presses are not played; whoever sits at the keyboard presses.
  bool presses = true;
  // Absent: when it sees two. Otherwise this long after its trial began, seeing one.
  std::optional<Time> presses_at_once;
  // What the tracker is told of the person in place of the truth: the profile of a practised
  // calibration. Of it the face, the zero of the held card and its print are used, which belong
  // together; the camera is the one that draws the pictures.
  std::optional<Profile> practised;
};

// A child for the practice of volunteers, and what to do about it is theirs to find out.
enum class PracticeChild {
  kEasy,
  kWillNotLook,    // turns the head away again and again
  kPressesAtOnce,  // before anything can have doubled
  kMovesBack,      // turns round long before the end, and says nothing
  kGlasses,        // reflections before the eyes
  kSilent,         // an eye drifts and nothing is reported
};
[[nodiscard]] PracticeOptions PracticeWith(PracticeChild child);

// An adult before an ordinary webcam whose near point is farther than most.
[[nodiscard]] PracticeOptions DefaultPractice();

// The same person, who keeps still and brings the card to the nose in place of leaning in.
[[nodiscard]] PracticeOptions PracticeWithCard();

[[nodiscard]] OpenLiveSource OpenPractice(PracticeOptions options);

}  // namespace nearpoint
