// The reaction task in a terminal: a bright block appears, the person presses any key.
#pragma once

#include <vector>

#include "app/guide/reaction_task.h"
#include "vision/core/result.h"

namespace nearpoint {

// The marks of that task on standard error, keys from standard input (app/guide/reaction_task.h:
// the same in the window). Terminals show a mark some milliseconds late, as windows do: see
// pipeline_delay.h. Errors: kUnavailable where no person watches a terminal, kInsufficient where
// the task is broken off.
[[nodiscard]] Result<std::vector<LagPress>> RunReactionTerminal(ReactionTask task);

}  // namespace nearpoint
