// What a person chooses about an estimate: the plane it is counted from and the limit it is held
// against.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/norms.h"
#include "app/measure/planes.h"
#include "vision/core/result.h"

namespace nearpoint {

struct EstimateArguments {
  ReferencePlane plane = ReferencePlane::kCorneal;
  std::string norm = "scheiman-2003";  // an id of app/measure/norms.h that has a limit of the break
  bool norm_chosen = false;            // by the person, so that age and target do not choose
  std::optional<double> cut_off_mm;    // counted from `plane`; takes the norm's place
  std::optional<double> age_years;     // 0..120
  TargetType target = TargetType::kNotStated;
};

// kNotFound for an unknown norm, kInsufficient for one without a limit; the sentence names those
// that can be used.
[[nodiscard]] Result<void> CheckNorm(const std::string& id);

// With an age and neither a norm nor a limit chosen, the norm for that age and target.
// kInsufficient where none is published: the nearest one is not taken instead.
[[nodiscard]] Result<void> ChooseNorm(EstimateArguments& arguments);

// Needs a norm that passes CheckNorm.
[[nodiscard]] EstimateOptions OptionsOf(const EstimateArguments& arguments);

// Whose limit it is, for the record: the norm's name and source, or that the user chose it.
[[nodiscard]] std::string CutOffSource(const EstimateArguments& arguments);

// Where the chosen norm is not for this age or this target.
[[nodiscard]] std::vector<std::string> NormCautions(const EstimateArguments& arguments);

}  // namespace nearpoint
