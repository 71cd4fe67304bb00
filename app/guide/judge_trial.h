// What a trial says, once it is over. Takes a tenth of a second and more, so whoever shows a window
// does it in another thread.
#pragma once

#include <optional>
#include <vector>

#include "app/measure/events.h"
#include "app/measure/stopping.h"
#include "app/measure/what_if.h"
#include "app/records/session_json.h"
#include "calibration/profile.h"
#include "vision/core/distance_sample.h"

namespace nearpoint {

// A trial with all that it rests on.
struct FlowTrial {
  Trial trial;
  TrialEyes eyes;
  std::vector<Event> events;
  std::vector<DistanceSample> samples;
};

// A trial that is over, and what it is to be judged with; copies, so that it can go to another
// thread.
struct TrialToJudge {
  int number = 1;
  std::vector<Event> events;
  std::vector<DistanceSample> samples;
  std::optional<SetAside> known_reason;  // that it was ended for
  std::vector<Trial> earlier;
  Profile profile;
  SharedCalibration shared;
  EstimateOptions options;
  StoppingPlan plan;
};

struct JudgedTrial {
  FlowTrial done;
  NextStep advice;                  // with this trial
  std::vector<RuleEffect> effects;  // of the trials so far
};

[[nodiscard]] JudgedTrial JudgeTrial(TrialToJudge trial);

}  // namespace nearpoint
