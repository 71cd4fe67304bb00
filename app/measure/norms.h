// Published limits and means of the near point, each with its source, age band, target and plane.
// Values are as printed by their source, in its plane; a measured value is moved there before it is
// compared.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/planes.h"
#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

enum class TargetType {
  kNotStated,      // the source, as read, does not say
  kAccommodative,  // letters or a detailed figure that asks for focusing
  kLight,          // a penlight, with or without red and green filters
};
[[nodiscard]] std::string_view ToText(TargetType target);

struct MeanAndSd {
  Length mean;
  std::optional<Length> sd;
};

struct Norm {
  std::string_view id;    // short name for options and files
  std::string_view name;  // for the person
  std::string_view source;
  double age_from = 0;  // years, both ends included
  double age_to = 0;
  std::vector<TargetType>
      targets;  // what it holds for; kNotStated holds for any, with a word of caution
  std::optional<ReferencePlane>
      plane;  // absent: not stated; then taken as the spectacle plane, and said
  std::optional<Length> break_limit;  // farther than this is beyond the norm
  std::optional<Length> recovery_limit;
  std::optional<MeanAndSd> break_mean;
  std::optional<MeanAndSd> recovery_mean;
  std::string_view note;  // how the ages or limits are to be read; "" when nothing
};

[[nodiscard]] std::span<const Norm> AllNorms();
[[nodiscard]] Result<const Norm*> FindNorm(std::string_view id);  // kNotFound names the known ones

// All norms for that age and target, those with a limit first. Empty when there is none.
[[nodiscard]] std::vector<const Norm*> NormsFor(double age_years, TargetType target);

// The one to use when nobody chose: 5 cm for adults, 6 cm for children. kInsufficient, with a
// sentence, when no norm with a limit holds for this age and target.
[[nodiscard]] Result<const Norm*> DefaultNorm(double age_years, TargetType target);

// The limit of a norm's break, counted from `plane`: what EstimateOptions::cut_off wants. Needs
// norm.break_limit.
[[nodiscard]] Length BreakLimitIn(const Norm& norm, ReferencePlane plane);

struct NormComparison {
  ReferencePlane plane =
      ReferencePlane::kSpectacle;  // of the norm; the bands below are moved there
  std::optional<Band> break_mm, recovery_mm;
  Answer break_answer = Answer::kCannotTell;
  Answer recovery_answer = Answer::kCannotTell;
  std::optional<double> break_deviations;  // from the norm's mean, in its standard deviations
  std::optional<double> recovery_deviations;
  std::vector<std::string> cautions;
};
// `plane` is the one the estimate's values are counted from.
[[nodiscard]] NormComparison CompareWithNorm(const Estimate& estimate, ReferencePlane plane,
                                             const Norm& norm);

}  // namespace nearpoint
