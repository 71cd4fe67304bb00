// nearpoint measure: the trials and the estimate of a recording.
#pragma once

#include <optional>
#include <string>

#include "app/measure/planes.h"
#include "vision/core/result.h"

namespace nearpoint {

// The adult limit of 5 cm (Scheiman et al., Optom Vis Sci 2003;80(3)), taken as counted from the
// spectacle plane.
inline constexpr Length kAdultCutOffFromSpectacle = Length::Millimeters(50);

struct EstimateArguments {
  ReferencePlane plane = ReferencePlane::kCorneal;
  std::optional<double> cut_off_mm;  // counted from `plane`; absent: the adult limit
};

[[nodiscard]] Length CutOff(const EstimateArguments& arguments);

struct MeasureArguments {
  std::string source;
  std::string profile;
  std::string events;
  std::string out;
  EstimateArguments estimate;
};

[[nodiscard]] Result<void> RunMeasure(const MeasureArguments& arguments);

}  // namespace nearpoint
