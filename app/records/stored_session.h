// A whole SESSION.json as it was stored, for reports and exports: what was measured and what was
// made of it then. Nothing is estimated anew.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/planes.h"
#include "app/records/session_json.h"
#include "vision/core/result.h"

namespace nearpoint {

struct StoredSession {
  SessionTrials data;
  Estimate estimate;  // its values are counted from `plane`
  ReferencePlane plane = ReferencePlane::kCorneal;
  std::string cut_off_from;             // "" where the file does not say
  std::string source;                   // what was measured; "" where the file does not say
  std::optional<std::string> software;  // name and version that made it
  std::optional<std::string> target;    // what was looked at: "accommodative", "light"
  std::vector<std::string> cautions;
  std::vector<std::optional<Length>> objective_breaks;  // one a trial, from the corneal plane
};

// Errors: those of ParseSessionTrials, and for the estimate kNotFound (a field of the contract is
// missing) and kBadValue.
[[nodiscard]] Result<StoredSession> ParseStoredSession(std::string_view text,
                                                       const std::string& where);

}  // namespace nearpoint
