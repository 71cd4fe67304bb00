// Whether another trial is worth the patient's effort.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "app/measure/estimate.h"

namespace nearpoint {

struct StoppingPlan {
  int least = 3;  // trials that count, before any answer is final
  int most = 10;  // trials made, those set aside included
  // Stop without an answer when the chance that the trials still allowed bring one is smaller than
  // this.
  double worth_it = 0.05;
};

enum class Advice {
  kContinue,      // another trial, please
  kAnswered,      // the band lies on one side of the cut-off
  kCannotChange,  // what is left of the plan is unlikely to bring an answer
  kMaximum,       // the agreed number is reached
};
[[nodiscard]] std::string_view ToText(Advice advice);

struct NextStep {
  Advice advice = Advice::kContinue;
  Estimate estimate;
  // That the whole plan, carried out, ends with an answer; 1 once there is one.
  double chance_of_answer = 1;
};

// Called after each trial, with all of them so far. estimate.probability_beyond is the chance that
// the near point is beyond the cut-off. tests/bench/estimate_stopping.cpp prints how often the
// answer is wrong and how many trials it takes.
[[nodiscard]] NextStep AdviseNextStep(std::span<const Trial> trials,
                                      const SharedCalibration& shared,
                                      const EstimateOptions& options = {},
                                      const StoppingPlan& plan = {});

}  // namespace nearpoint
