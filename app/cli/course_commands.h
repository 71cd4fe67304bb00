// nearpoint compare and nearpoint progress: what changed between two sessions, and the course over
// weeks.
#pragma once

#include <string>
#include <vector>

#include "app/session/estimate_options.h"
#include "vision/core/result.h"

namespace nearpoint {

struct CompareArguments {
  std::string earlier, later;  // a file with one session each
  // Sessions of this person between which nothing was treated: they show the person's own
  // day-to-day spread. May be empty.
  std::vector<std::string> repeats;
  ReferencePlane plane = ReferencePlane::kCorneal;  // that the values of a CSV are counted from
};
[[nodiscard]] Result<void> RunCompare(const CompareArguments& arguments);

struct ProgressArguments {
  std::vector<std::string> files;  // sessions with their day, or diaries
  EstimateArguments estimate;
};
[[nodiscard]] Result<void> RunProgress(const ProgressArguments& arguments);

}  // namespace nearpoint
