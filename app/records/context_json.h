// What a clinician found in the office: CONTEXT.json, schema "nearpoint/context/1".
#pragma once

#include <string>
#include <string_view>

#include "app/measure/criteria.h"
#include "vision/core/result.h"

namespace nearpoint {

// Fields, each a number, absent or null: age_years, near_phoria_pd and far_phoria_pd (prism
// dioptres, exo positive), base_out_blur_pd, base_out_break_pd, base_in_blur_pd, base_in_break_pd
// (reserves at near), symptom_score (CISS, whole, 0..60). Errors: kBadValue, kNotFound (schema).
[[nodiscard]] Result<ContextValues> ParseContext(std::string_view text, const std::string& where);

// Indented, with a newline at its end; ParseContext of it gives the same.
[[nodiscard]] std::string SerializeContext(const ContextValues& context);

// The same ranges for values from elsewhere: kBadValue names the value and what was expected.
// A blur point beyond its break point is refused.
[[nodiscard]] Result<void> CheckContext(const ContextValues& context, const std::string& where);

}  // namespace nearpoint
