#include "app/cli/estimate_options.h"

#include "app/measure/norms.h"

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

}  // namespace nearpoint
