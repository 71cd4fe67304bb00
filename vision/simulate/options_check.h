// Whether a patient can be made from the options.
#pragma once

#include "vision/core/result.h"
#include "vision/simulate/patient.h"

namespace nearpoint::simulate {

// kBadValue with the name of the option and the range it must lie in; NaN is never in range.
[[nodiscard]] Result<void> CheckOptions(const PatientOptions& options);

}  // namespace nearpoint::simulate
