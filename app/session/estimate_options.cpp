#include "app/session/estimate_options.h"

#include <algorithm>
#include <cstdio>

namespace nearpoint {

Result<void> CheckNorm(const std::string& id) {
  const auto norm = FindNorm(id);
  if (norm && (*norm)->break_limit) return {};
  std::string usable;
  for (const Norm& other : AllNorms()) {
    if (!other.break_limit) continue;
    usable += usable.empty() ? "" : ", ";
    usable += other.id;
  }
  return Fail(norm ? ErrorCode::kInsufficient : ErrorCode::kNotFound,
              '"' + id + "\" is no norm with a limit; expected one of " + usable + ".");
}

Result<void> ChooseNorm(EstimateArguments& arguments) {
  if (!arguments.age_years || arguments.norm_chosen || arguments.cut_off_mm) return {};
  const auto norm = DefaultNorm(*arguments.age_years, arguments.target);
  if (!norm) return tl::unexpected(norm.error());
  arguments.norm = (*norm)->id;
  return {};
}

EstimateOptions OptionsOf(const EstimateArguments& arguments) {
  EstimateOptions options;
  options.plane = arguments.plane;
  if (arguments.cut_off_mm) {
    options.cut_off = Length::Millimeters(*arguments.cut_off_mm);
  } else if (const auto norm = FindNorm(arguments.norm); norm && (*norm)->break_limit) {
    options.cut_off = BreakLimitIn(**norm, arguments.plane);
  }
  return options;
}

std::string CutOffSource(const EstimateArguments& arguments) {
  const auto norm = FindNorm(arguments.norm);
  if (arguments.cut_off_mm || !norm) return "chosen by the user";
  return std::string((*norm)->name) + " (" + std::string((*norm)->source) + ")";
}

std::vector<std::string> NormCautions(const EstimateArguments& arguments) {
  std::vector<std::string> cautions;
  const auto norm = FindNorm(arguments.norm);
  if (arguments.cut_off_mm || !norm) return cautions;
  const std::string name = "The norm \"" + std::string((*norm)->name) + "\"";
  const double age = arguments.age_years.value_or((*norm)->age_from);
  if (age < (*norm)->age_from || age > (*norm)->age_to) {
    char ages[96];
    std::snprintf(ages, sizeof ages, " is for ages %.0f to %.0f; the person is %.0f.",
                  (*norm)->age_from, (*norm)->age_to, age);
    cautions.push_back(name + ages);
  }
  const bool holds = std::ranges::any_of((*norm)->targets, [&](TargetType t) {
    return t == arguments.target || t == TargetType::kNotStated ||
           arguments.target == TargetType::kNotStated;
  });
  if (!holds) {
    cautions.push_back(name + " is not for the target \"" + std::string(ToText(arguments.target)) +
                       "\".");
  }
  return cautions;
}

}  // namespace nearpoint
