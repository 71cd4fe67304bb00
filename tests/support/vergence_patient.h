// Traces of what a tracker would say of a patient whose target comes near and goes away again, with
// the truth beside them: no pictures, so hundreds of trials take seconds.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "vision/core/distance_sample.h"
#include "vision/core/units.h"

namespace nearpoint::testing {

enum class Gaze {
  kOnTarget,
  kElsewhere,      // looks past the target at something 1 m away, wandering
  kLeftCovered,    // the left eye is behind a hand
  kOneEyeFollows,  // the left eye follows, the right eye stays
};

struct VergencePatient {
  double frames_per_second = 30;
  double start_mm = 420;
  double nearest_mm = 60;         // turns back here, or after a report
  bool turns_when_double = true;  // false: says nothing and goes on to nearest_mm
  double approach_mm_s = 15;
  double withdrawal_mm_s = 18;
  double pupil_distance_mm = 62;
  Gaze gaze = Gaze::kOnTarget;

  std::optional<double> break_mm;  // the drift begins here on the way in
  double recovery_mm = 110;        // the return begins here on the way out
  double drift_deg = 8;
  double drift_ramp_s = 0.35;
  double return_ramp_s = 0.35;
  bool left_eye_drifts = true;
  bool drifted_eye_stays = false;  // follows no more while it is out; else it follows turned out

  // The person's own angles.
  double offset_deg = 3;  // of the vergence
  double gain = 1.05;
  double asymmetry_deg = 1;  // left less right

  // The tracker.
  double white_deg = 0.4;         // of the vergence, each frame
  double place_offset_deg = 1.2;  // slow offset that depends on the distance, one deviation
  double wander_deg = 0.5;        // slow offset in time, one deviation, over 3 s
  double yaw_error_deg = 1.5;     // slow error of the head's yaw: opposite in the two eyes
  double yaw_white_deg = 0.4;
  double distance_rel_sd = 0.004;
  double wild_fraction = 0.005;  // frames off by several degrees

  // Behaviour.
  int blinks = 3;
  int saccades = 3;          // both eyes sideways by 3 to 12 degrees for a moment
  int keyboard_glances = 1;  // both eyes down by 15 to 25 degrees, converging on 450 mm
  double sway_deg = 3;       // of the head's yaw
  int head_turns = 1;        // by 10 to 20 degrees, 1.5 s; misread vergence grows with its square
  int gaps = 1;              // nothing at all for 0.2 to 0.6 s
};

struct VergenceTruth {
  std::optional<Time> break_time, recovery_time;  // onset of the drift and of the return
  std::optional<Length> break_distance, recovery_distance;
};

struct VergenceTrial {
  std::vector<DistanceSample> samples;
  VergenceTruth truth;
};

[[nodiscard]] VergenceTrial SimulateVergence(const VergencePatient& patient, std::uint64_t seed);

// A patient whose break, drift, pace, camera and noise are drawn at random: break 50 to 150 mm,
// drift 5 to 12 degrees over 0.2 to 0.5 s, 10 to 20 mm/s, 15 to 60 frames a second, white noise of
// 0.3 to 0.5 degrees, slow offsets of 1 to 2.
[[nodiscard]] VergencePatient DrawPatient(std::uint64_t seed, bool breaks);

}  // namespace nearpoint::testing
