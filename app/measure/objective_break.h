// What the eyes themselves say of one trial: whether they followed the target, when and where one
// of them left it, and when it came back.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/measure/drift_detector.h"
#include "app/measure/fixation.h"
#include "app/measure/trial.h"
#include "app/measure/vergence_model.h"
#include "app/measure/vergence_trace.h"
#include "vision/core/distance_sample.h"
#include "vision/core/units.h"

namespace nearpoint {

struct ObjectiveEvent {
  Time time{};  // onset, on the clock of the samples
  Time time_sd{};
  // Target to corneal plane at the onset; its deviation holds the onset's. nullopt when no distance
  // is known there.
  std::optional<UncertainLength> distance;
  Angle size;  // outward at the break, back inward at the recovery
  Angle size_sd;
};

struct ObjectiveResult {
  PersonalVergence personal;
  FixationCheck fixation;
  std::optional<ObjectiveEvent> break_point;
  std::optional<ObjectiveEvent> recovery;  // only after a break
  DriftingEye eye = DriftingEye::kUnclear;
  double eye_probability = 0;
  double log_evidence = 0;  // for a drift against none; natural logarithm
  double probability = 0;   // of a drift, at even odds beforehand
  // The smallest drift that would have been found; nullopt: none up to 20 degrees, so the absence
  // of a drift says nothing.
  std::optional<Angle> smallest_visible;
  std::optional<SetAside> set_aside;  // kNotLooking or kOneEyeCovered
  int frames = 0;
  int frames_used = 0;  // with both eyes, on the target
  // Sentences for the clinician about what was seen and what could not be.
  std::vector<std::string> notes;

  // Nothing was found and a drift of this size would have been.
  [[nodiscard]] bool RulesOut(Angle size) const {
    return !set_aside && !break_point && smallest_visible && *smallest_visible <= size;
  }
};

struct ObjectiveOptions {
  TraceOptions trace;
  DriftOptions drift;
  LearnOptions learn;
  FixationOptions fixation;
  // The distance at the onset: a robust line through this much before and after it. The reversal
  // after a report follows the onset by more than fit_after.
  Time fit_before = FromMilliseconds(450);
  Time fit_after = FromMilliseconds(300);
  // Where in its slow first part an eye's turn begins is a matter of the model: one standard
  // deviation, about a fifth of the ramps of 0.2 to 0.6 s that are looked for.
  Time onset_model_sd = FromMilliseconds(80);
  // An onset less sure than this is said to be so.
  Time sure_time = FromMilliseconds(150);
};

// trial_samples: the frames of one trial in time order; lost ones included, since they tell blinks.
[[nodiscard]] ObjectiveResult AnalyseVergence(std::span<const DistanceSample> trial_samples,
                                              const ObjectiveOptions& options = {});

// The trial with what the eyes say: objective_break and objective_recovery, and set aside if the
// patient did not look with both eyes. A reason that stands already stays, but for kNoResponse: a
// patient who did not look could not respond.
[[nodiscard]] Trial WithObjective(Trial trial, const ObjectiveResult& result);

// "the left eye", "one eye"...
[[nodiscard]] std::string_view ToText(DriftingEye eye);

}  // namespace nearpoint
