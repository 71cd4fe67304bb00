// Trials read off a ruler: CSV with the header break_mm,recovery_mm,censored, or a diary of them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/measure/trial.h"
#include "app/records/moment.h"
#include "vision/core/result.h"

namespace nearpoint {

// One trial a line, numbered from 1. break_mm: 1 to 3000; recovery_mm: the same or empty; censored:
// empty, "below" (the break is at most break_mm) or "above" (at least). Deviations are zero: the
// scatter of the trials carries the reading error. A file whose breaks are all below 20 is refused,
// since those are centimetres. Errors: kBadValue, naming the line and the field. where: the file,
// for messages.
[[nodiscard]] Result<std::vector<Trial>> ParseTrialsCsv(std::string_view text,
                                                        const std::string& where);

// One session of a diary: all lines that have the same "measured_at".
struct DiarySession {
  Moment started_at;
  std::vector<Trial> trials;  // numbered from 1 within the session
};

// A ruler and a diary: CSV with the header measured_at,break_mm,recovery_mm,censored, where
// measured_at is a day or a moment (moment.h) and the rest as above. Sessions in the order in which
// they first occur.
[[nodiscard]] Result<std::vector<DiarySession>> ParseDiaryCsv(std::string_view text,
                                                              const std::string& where);

// Whether the first line has the diary's first column.
[[nodiscard]] bool LooksLikeDiary(std::string_view text);

}  // namespace nearpoint
