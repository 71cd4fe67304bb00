// Published rules that a clinician weighs together with the near point, from values only a
// clinician has. Each rule says whether it is met, with its source. None of them, alone or
// together, is a diagnosis.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "app/measure/estimate.h"
#include "vision/core/units.h"

namespace nearpoint {

// All optional. Phorias: exo positive, eso negative. Reserves at near, base out (positive fusional
// vergence).
struct ContextValues {
  std::optional<double> age_years;
  std::optional<PrismDiopters> near_phoria;
  std::optional<PrismDiopters> far_phoria;
  std::optional<PrismDiopters> base_out_blur;  // absent when no blur was reported
  std::optional<PrismDiopters> base_out_break;
  std::optional<PrismDiopters> base_in_blur;
  std::optional<PrismDiopters> base_in_break;
  std::optional<int> symptom_score;  // CISS, 0..60
};

enum class Status { kMet, kNotMet, kNotEnoughData };
[[nodiscard]] std::string_view ToText(Status status);

struct Criterion {
  std::string_view name;  // what being met means
  std::string_view source;
  Status status = Status::kNotEnoughData;
};

// Sheard: the opposing reserve is at least twice the phoria. Uses blur, else break.
[[nodiscard]] Status SheardStatus(const ContextValues& context);

// The symptom score at or beyond its limit: 16 from 9 to 17 years, 21 for adults; the sources stand
// in EvaluateCriteria.
[[nodiscard]] Status SymptomStatus(const ContextValues& context);

// How much prism would make Sheard's rule just met: 2/3 phoria - 1/3 reserve, when positive (texts;
// no page was read).
[[nodiscard]] std::optional<PrismDiopters> SheardPrism(const ContextValues& context);

// Sheard's rule, the four signs of the Convergence Insufficiency Treatment Trial and all four
// together. `plane` is the one the estimate's values are counted from.
[[nodiscard]] std::vector<Criterion> EvaluateCriteria(const Estimate& estimate,
                                                      ReferencePlane plane,
                                                      const ContextValues& context);

}  // namespace nearpoint
