// nearpoint demo: the whole main job on a simulated patient.
#pragma once

#include <cstdint>
#include <string>

#include "app/cli/estimate_options.h"
#include "vision/core/result.h"

namespace nearpoint {

struct DemoArguments {
  std::uint64_t seed = 1;
  int trials = 5;
  std::string out = "demo-out";  // made if absent; files of an earlier run are replaced
  EstimateArguments estimate;
};

// Draws the patient on one thread and measures on another, with the same code as `measure`; then,
// and only then, looks at the truth. Prints the table and writes session.json, profile.json,
// events.jsonl, track.jsonl, truth.jsonl and trace.svg.
[[nodiscard]] Result<void> RunDemo(const DemoArguments& arguments);

}  // namespace nearpoint
