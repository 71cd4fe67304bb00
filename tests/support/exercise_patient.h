// A person who does the exercise in front of a counter, as a tracker would see it: the head about
// half a metre from the screen, a finger brought in and taken back, eyes that follow it or not.
// Listens to the counter's phase as a person listens to its tones. No pictures, no clock.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>

#include "app/exercise/repetition_counter.h"
#include "vision/core/distance_sample.h"
#include "vision/core/units.h"

namespace nearpoint::testing {

enum class Doing {
  kWell,         // the eyes go to the pair, report, hold, return
  kOnlyHand,     // the eyes stay on the screen; reports as if they had not
  kHalfWay,      // the eyes turn in by half of what the pair asks
  kOneEye,       // the left eye turns in by its half, the right stays
  kNearer,       // the eyes turn in by 1.7 times what the pair asks
  kOneDrifts,    // after two seconds of the hold the left eye turns out; nothing is said
  kLetsGo,       // after two seconds both eyes go back to the screen; says so
  kSilent,       // does it and reports nothing
  kLeftHidden,   // the left eye is hidden behind the hand
  kMissesMark,   // reports that one mark is missing
  kReportsTwice  // presses the key early: reported a second before the eyes arrive
};

struct ExercisePatient {
  Doing doing = Doing::kWell;
  double frames_per_second = 30;
  double screen_mm = 500;  // corneal plane to the plane of the pair
  double pupil_distance_mm = 60;
  double separation_mm = 120;
  double hold_s = 5;  // as long as it is told to
  double drift_deg = 8;
  // From this repetition on (from 1) the eyes come short of the pair by short_share more each time.
  int tires_from = 0;  // 0: never
  double short_share = 0.08;

  // The person's own angles.
  double offset_deg = 3;
  double gain = 1.03;

  // The tracker, as tests/support/vergence_patient.
  double white_deg = 0.4;
  double wander_deg = 0.5;  // of the vergence, over 3 s
  double slow_deg = 0.5;    // the same over a minute
  double yaw_error_deg = 1.5;
  double distance_rel_sd = 0.004;
  double wild_fraction = 0.005;

  // Behaviour.
  double blinks_per_minute = 15;
  double glances_per_minute = 2;     // both eyes aside by 3 to 12 degrees for a moment
  double looks_down_per_minute = 1;  // both eyes down to a key and converging on 450 mm
  double sway_mm = 8;
  double unsteady_deg = 0.3;  // of the eyes' crossing, over 0.5 s
};

class Exerciser {
 public:
  Exerciser(const ExercisePatient& patient, std::uint64_t seed);
  ~Exerciser();
  Exerciser(Exerciser&&) noexcept;

  struct Frame {
    std::optional<DistanceSample> sample;  // nullopt: a picture that never came
    std::optional<FusionReport> report;    // made just before the sample
    Time time{};
  };
  // The next frame, to what the counter says now.
  Frame Next(CounterPhase phase);
  void Set(Doing doing);
  void SetSeparation(double mm);
  // True seconds for which both eyes were at the pair with the report standing, in this repetition.
  [[nodiscard]] double true_hold_s() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

// Lets the patient exercise before a counter until it is done or this much time is over.
void Exercise(Exerciser& patient, RepetitionCounter& counter, double seconds);

[[nodiscard]] CounterSetup SetupOf(const ExercisePatient& patient);

}  // namespace nearpoint::testing
