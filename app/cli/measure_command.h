// nearpoint measure: the trials and the estimate of a recording.
#pragma once

#include <optional>
#include <string>

#include "app/session/estimate_options.h"
#include "vision/core/result.h"

namespace nearpoint {

struct MeasureArguments {
  std::string source;
  std::string profile;
  std::string person;  // whom the profile must be of; empty: not said
  std::string events;
  std::string out;
  std::optional<std::string> started_at;  // as ParseMoment reads it
  EstimateArguments estimate;
};

[[nodiscard]] Result<void> RunMeasure(const MeasureArguments& arguments);

}  // namespace nearpoint
