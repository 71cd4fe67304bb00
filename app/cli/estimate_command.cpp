#include "app/cli/estimate_command.h"

#include "app/cli/print_json.h"
#include "app/cli/read_sessions.h"
#include "app/measure/estimate.h"
#include "app/measure/what_if.h"
#include "app/records/estimate_json.h"
#include "app/records/json_number.h"
#include "app/records/review_json.h"

namespace nearpoint {
namespace {

// Every norm for this age and target; null where no age was given.
OrderedJson NormsJson(const Estimate& estimate, const EstimateArguments& arguments) {
  if (!arguments.age_years) return nullptr;
  OrderedJson list = OrderedJson::array();
  for (const Norm* norm : NormsFor(*arguments.age_years, arguments.target)) {
    list.push_back(NormToJson(*norm, CompareWithNorm(estimate, arguments.plane, *norm)));
  }
  return list;
}

}  // namespace

Result<void> RunEstimate(const EstimateCommandArguments& arguments) {
  const auto sessions = ReadAllSessions(arguments.files, arguments.estimate.plane);
  if (!sessions) return tl::unexpected(sessions.error());
  const auto& [trials, shared] = Pool(*sessions);
  const EstimateOptions options = OptionsOf(arguments.estimate);
  const NextStep next = AdviseNextStep(trials, shared, options, arguments.plan);
  Estimate estimate = next.estimate;
  for (std::string& caution : NormCautions(arguments.estimate)) {
    estimate.cautions.push_back(std::move(caution));
  }
  if (sessions->size() > 1) {
    estimate.cautions.emplace_back(
        "Several sessions are taken together as one: what varies from day to day counts as "
        "varying from trial to trial. Use progress or compare to keep them apart.");
  }
  auto json = EstimateToJson(estimate);
  json["set_aside"] = RuleEffectsToJson(EffectOfRules(trials, shared, options));
  json["planned_stopping"] = PlannedStoppingToJson(next, arguments.plan);
  json["norms"] = NormsJson(estimate, arguments.estimate);
  json["cut_off_from"] = CutOffSource(arguments.estimate);
  return PrintJson(json);
}

}  // namespace nearpoint
