// The reaction task in a terminal: a bright block appears, the person presses any key.
#pragma once

#include <vector>

#include "calibration/lag_task.h"
#include "vision/core/result.h"

namespace nearpoint {

// One mark after each foreperiod, on standard error; keys from standard input. Each mark waits two
// seconds for its press; a press before the mark counts for the coming mark as too early. Terminals
// show a mark some milliseconds late, as windows do: see pipeline_delay.h. Errors: kUnavailable
// where no person watches a terminal, kInsufficient where the task is broken off.
[[nodiscard]] Result<std::vector<LagPress>> RunReactionTerminal(
    const std::vector<Time>& foreperiods);

}  // namespace nearpoint
