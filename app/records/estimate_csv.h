// Trials read off a ruler: CSV with the header break_mm,recovery_mm,censored.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/measure/trial.h"
#include "vision/core/result.h"

namespace nearpoint {

// One trial a line, numbered from 1. break_mm: 1 to 3000; recovery_mm: the same or empty; censored:
// empty, "below" (the break is at most break_mm) or "above" (at least). Deviations are zero: the
// scatter of the trials carries the reading error. A file whose breaks are all below 20 is refused,
// since those are centimetres. Errors: kBadValue, naming the line and the field. where: the file,
// for messages.
[[nodiscard]] Result<std::vector<Trial>> ParseTrialsCsv(std::string_view text,
                                                        const std::string& where);

}  // namespace nearpoint
