#include "app/event/rule.h"

namespace nearpoint {
namespace {

constexpr std::string_view kChildren = "hayes-1998";
constexpr int kMostTrials = 10;

}  // namespace

Result<void> CheckRule(const EventRule& rule) {
  if (rule.norm != kNormByAge) {
    const auto norm = FindNorm(rule.norm);
    if (!norm) return tl::unexpected(norm.error());
    if (!(*norm)->break_limit) {
      return Fail(ErrorCode::kInsufficient,
                  "The norm \"" + rule.norm + "\" has no limit; expected one that has, or by-age.");
    }
  }
  if (rule.least_trials < 1 || rule.least_trials > rule.most_trials ||
      rule.most_trials > kMostTrials) {
    return Fail(ErrorCode::kBadValue,
                "The trials of the rule are " + std::to_string(rule.least_trials) + " to " +
                    std::to_string(rule.most_trials) +
                    "; expected at least 1, at most 10, and the first not above the second.");
  }
  if (!(rule.repeat_from > 0 && rule.repeat_from <= rule.refer_from && rule.refer_from < 1)) {
    return Fail(ErrorCode::kBadValue,
                "The rule's probabilities must lie between 0 and 1, and \"measure again\" must not "
                "begin above \"see a professional\".");
  }
  return {};
}

const Norm& NormOf(const EventRule& rule, std::optional<double> age_years) {
  if (rule.norm != kNormByAge) return **FindNorm(rule.norm);
  if (age_years) {
    const auto norm = DefaultNorm(*age_years, TargetType::kAccommodative);
    if (norm) return **norm;
  }
  return **FindNorm(kChildren);
}

EstimateOptions OptionsOf(const EventRule& rule, std::optional<double> age_years) {
  EstimateOptions options;
  options.cut_off = BreakLimitIn(NormOf(rule, age_years), options.plane);
  return options;
}

StoppingPlan PlanOf(const EventRule& rule) {
  StoppingPlan plan;
  plan.least = rule.least_trials;
  plan.most = rule.most_trials;
  return plan;
}

std::string_view ToText(Finding finding) {
  switch (finding) {
    case Finding::kNeedsLookingAfter:
      return "needs looking after";
    case Finding::kWithin:
      return "within";
    case Finding::kSeeProfessional:
      return "see a professional";
    case Finding::kMeasureAgain:
      return "measure again";
    case Finding::kNotMeasured:
      return "not measured";
  }
  return "";
}

Finding Judge(const EventRule& rule, int trials_used, std::optional<double> probability_beyond,
              bool contradicted) {
  if (trials_used == 0) return Finding::kNotMeasured;
  if (trials_used < rule.least_trials || !probability_beyond || contradicted) {
    return Finding::kMeasureAgain;
  }
  if (*probability_beyond >= rule.refer_from) return Finding::kSeeProfessional;
  if (*probability_beyond >= rule.repeat_from) return Finding::kMeasureAgain;
  return Finding::kWithin;
}

}  // namespace nearpoint
