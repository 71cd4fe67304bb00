// One trial as it stands in the store: every field, so that it reads back as it was.
#pragma once

#include <string>
#include <string_view>

#include "app/measure/trial.h"
#include "vision/core/result.h"

namespace nearpoint {

[[nodiscard]] std::string TrialToText(const Trial& trial);
// Errors: kNotFound, kBadValue. where: for messages.
[[nodiscard]] Result<Trial> TrialFromText(std::string_view text, const std::string& where);

}  // namespace nearpoint
