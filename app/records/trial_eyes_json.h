// What the eyes say of one trial, as it stands in a store: whatever a session file or a decision
// by the eyes needs of it later reads back as it was.
#pragma once

#include <string>
#include <string_view>

#include "app/records/session_json.h"

namespace nearpoint {

[[nodiscard]] std::string TrialEyesToText(const TrialEyes& eyes);
// Errors: kNotFound, kBadValue. where: for messages.
[[nodiscard]] Result<TrialEyes> TrialEyesFromText(std::string_view text, const std::string& where);

}  // namespace nearpoint
