#include "app/cli/criteria_command.h"

#include "app/cli/print_json.h"
#include "app/cli/read_sessions.h"
#include "app/records/context_json.h"
#include "app/records/estimate_json.h"
#include "app/records/review_json.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

template <typename T>
void Replace(std::optional<T>& value, const std::optional<T>& by) {
  if (by) value = by;
}

Result<ContextValues> ContextOf(const CriteriaArguments& arguments) {
  ContextValues context;
  if (arguments.context) {
    const auto text = ReadTextFile(*arguments.context);
    if (!text) return tl::unexpected(text.error());
    auto read = ParseContext(*text, *arguments.context);
    if (!read) return read;
    context = *read;
  }
  const ContextValues& given = arguments.values;
  Replace(context.age_years, given.age_years);
  Replace(context.near_phoria, given.near_phoria);
  Replace(context.far_phoria, given.far_phoria);
  Replace(context.base_out_blur, given.base_out_blur);
  Replace(context.base_out_break, given.base_out_break);
  Replace(context.base_in_blur, given.base_in_blur);
  Replace(context.base_in_break, given.base_in_break);
  Replace(context.symptom_score, given.symptom_score);
  if (auto checked = CheckContext(context, "criteria"); !checked) {
    return tl::unexpected(checked.error());
  }
  return context;
}

}  // namespace

Result<void> RunCriteria(const CriteriaArguments& arguments) {
  const auto context = ContextOf(arguments);
  if (!context) return tl::unexpected(context.error());
  const auto sessions = ReadAllSessions(arguments.files, arguments.plane);
  if (!sessions) return tl::unexpected(sessions.error());
  const auto& [trials, shared] = Pool(*sessions);
  EstimateOptions options;
  options.plane = arguments.plane;
  const Estimate estimate = EstimateNearPoint(trials, shared, options);

  nlohmann::ordered_json json;
  json["schema"] = "nearpoint/criteria/1";
  json.update(CriteriaToJson(EvaluateCriteria(estimate, arguments.plane, *context), *context));
  json["break_mm"] = BandToJson(estimate.break_mm);
  json["reference_plane"] = ToText(arguments.plane);
  json["note"] =
      "Published rules, each with its source. None of them, alone or together, is a "
      "diagnosis.";
  return PrintJson(json);
}

}  // namespace nearpoint
