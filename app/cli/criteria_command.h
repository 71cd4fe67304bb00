// nearpoint criteria: published rules over the near point and what a clinician found in the office.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/measure/criteria.h"
#include "app/session/estimate_options.h"
#include "vision/core/result.h"

namespace nearpoint {

struct CriteriaArguments {
  std::vector<std::string> files;      // sessions of the near point; none: it is unknown
  std::optional<std::string> context;  // CONTEXT.json
  ContextValues values;                // each takes the place of the file's
  ReferencePlane plane = ReferencePlane::kCorneal;  // that the values of a CSV are counted from
};

[[nodiscard]] Result<void> RunCriteria(const CriteriaArguments& arguments);

}  // namespace nearpoint
