// nearpoint demo: the whole main job on a simulated patient.
#pragma once

#include <cstdint>
#include <string>

#include "app/session/estimate_options.h"
#include "vision/core/result.h"
#include "vision/simulate/patient.h"

namespace nearpoint {

struct DemoArguments {
  std::uint64_t seed = 1;
  int trials = 5;
  std::string out = "demo-out";  // made if absent; files of an earlier run are replaced
  EstimateArguments estimate;
};

// Who is measured: known break and recovery, a camera with a fixed-focus lens.
[[nodiscard]] simulate::PatientOptions DemoPatient(const DemoArguments& arguments);

// Draws the patient on one thread and measures on another, with the same code as `measure`; then,
// and only then, looks at the truth. Prints the table and writes session.json, profile.json,
// events.jsonl, track.jsonl, truth.jsonl and trace.svg.
[[nodiscard]] Result<void> RunDemo(const DemoArguments& arguments);

}  // namespace nearpoint
