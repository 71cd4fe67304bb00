#include "app/measure/criteria.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "app/measure/norms.h"

namespace nearpoint {
namespace {

constexpr std::string_view kCitt = "Convergence Insufficiency Treatment Trial, eligibility";

Status From(bool met) { return met ? Status::kMet : Status::kNotMet; }

std::optional<PrismDiopters> OpposingReserve(const ContextValues& context) {
  const bool exo = context.near_phoria->value() >= 0;
  const auto& blur = exo ? context.base_out_blur : context.base_in_blur;
  const auto& breaks = exo ? context.base_out_break : context.base_in_break;
  return blur ? blur : breaks;
}

Status ExoAtNear(const ContextValues& context) {
  if (!context.near_phoria || !context.far_phoria) return Status::kNotEnoughData;
  return From((*context.near_phoria - *context.far_phoria).value() >= 4);
}

Status RemoteBreak(const Estimate& estimate, ReferencePlane plane) {
  const Result<const Norm*> citt = FindNorm("citt");
  if (!citt) return Status::kNotEnoughData;
  switch (CompareWithNorm(estimate, plane, **citt).break_answer) {
    case Answer::kBeyond:
      return Status::kMet;
    case Answer::kWithin:
      return Status::kNotMet;
    case Answer::kCannotTell:
      break;
  }
  return Status::kNotEnoughData;
}

Status LowReserve(const ContextValues& context) {
  const auto& reserve = context.base_out_blur ? context.base_out_blur : context.base_out_break;
  if (reserve && reserve->value() <= 15) return Status::kMet;
  // Sheard's rule is about base out only for an exophoria.
  if (!reserve || !context.near_phoria) return Status::kNotEnoughData;
  return From(context.near_phoria->value() > 0 && SheardStatus(context) == Status::kNotMet);
}

}  // namespace

std::string_view ToText(Status status) {
  switch (status) {
    case Status::kMet:
      return "met";
    case Status::kNotMet:
      return "not met";
    case Status::kNotEnoughData:
      return "not enough data";
  }
  return "";
}

Status SheardStatus(const ContextValues& context) {
  if (!context.near_phoria) return Status::kNotEnoughData;
  if (context.near_phoria->value() == 0) return Status::kMet;  // nothing to oppose
  const std::optional<PrismDiopters> reserve = OpposingReserve(context);
  if (!reserve) return Status::kNotEnoughData;
  return From(reserve->value() >= 2 * std::abs(context.near_phoria->value()));
}

Status SymptomStatus(const ContextValues& context) {
  if (!context.symptom_score || !context.age_years) return Status::kNotEnoughData;
  const double age = *context.age_years;
  if (age >= 9 && age < 18) return From(*context.symptom_score >= 16);
  if (age >= 18) return From(*context.symptom_score >= 21);
  return Status::kNotEnoughData;  // no limit is published below 9
}

std::optional<PrismDiopters> SheardPrism(const ContextValues& context) {
  if (!context.near_phoria) return std::nullopt;
  const std::optional<PrismDiopters> reserve = OpposingReserve(context);
  if (!reserve) return std::nullopt;
  return PrismDiopters::Of(
      std::max(0.0, (2 * std::abs(context.near_phoria->value()) - reserve->value()) / 3));
}

std::vector<Criterion> EvaluateCriteria(const Estimate& estimate, ReferencePlane plane,
                                        const ContextValues& context) {
  const std::array<Status, 4> signs = {ExoAtNear(context), RemoteBreak(estimate, plane),
                                       LowReserve(context), SymptomStatus(context)};
  // One sign that is not met settles it, whatever is unknown of the others.
  const auto any = [&signs](Status status) {
    return std::ranges::find(signs, status) != signs.end();
  };
  const Status all = any(Status::kNotMet)          ? Status::kNotMet
                     : any(Status::kNotEnoughData) ? Status::kNotEnoughData
                                                   : Status::kMet;
  return {
      {"Sheard: the opposing reserve is at least twice the phoria",
       "Sheard's criterion, ophthalmic dictionaries", SheardStatus(context)},
      {"Exophoria at near exceeds that at far by 4 prism dioptres or more", kCitt, signs[0]},
      {"Near point of convergence 6 cm or farther", kCitt, signs[1]},
      {"Positive fusional vergence fails Sheard or is 15 prism dioptres or less", kCitt, signs[2]},
      {"Symptom score 16 or more (9 to 17 years), 21 or more (adults)",
       "CISS: Borsting et al., Optom Vis Sci 2003;80:832-838; Rouse et al., Ophthalmic Physiol Opt "
       "2004;24:384-390",
       signs[3]},
      {"All four signs of the trial together", kCitt, all},
  };
}

}  // namespace nearpoint
