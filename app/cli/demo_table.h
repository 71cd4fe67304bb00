// The demo's answer beside the truth, as text.
#pragma once

#include <string>
#include <vector>

#include "app/records/session_json.h"
#include "vision/simulate/patient.h"

namespace nearpoint {

// Columns line up in a terminal; millimetres from the plane of the estimate, which the text names.
[[nodiscard]] std::string DemoTable(const Session& session, const simulate::Script& truth);

}  // namespace nearpoint
