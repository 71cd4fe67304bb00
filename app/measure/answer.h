// What a band allows to say about a limit.
#pragma once

#include <optional>

#include "app/measure/estimate.h"

namespace nearpoint {

// Beyond or within where the whole band lies on that side; without a band nothing can be told. Both
// in one plane.
[[nodiscard]] Answer AnswerFor(const std::optional<Band>& break_mm, Length cut_off);

}  // namespace nearpoint
