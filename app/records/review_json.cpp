#include "app/records/review_json.h"

#include "app/records/estimate_json.h"
#include "app/records/json_number.h"

namespace nearpoint {
namespace {

OrderedJson Probability(std::optional<double> value) {
  return value ? JsonNumber(*value, 6) : OrderedJson(nullptr);
}

OrderedJson MeanToJson(const std::optional<MeanAndSd>& mean) {
  if (!mean) return nullptr;
  return {{"mean", JsonMm(std::optional(mean->mean))}, {"sd", JsonMm(mean->sd)}};
}

OrderedJson Deviations(const std::optional<double>& value) {
  return value ? JsonNumber(*value, 3) : OrderedJson(nullptr);
}

OrderedJson Diopters(const std::optional<PrismDiopters>& value) {
  return value ? JsonNumber(value->value(), 3) : OrderedJson(nullptr);
}

}  // namespace

OrderedJson PlannedStoppingToJson(const NextStep& next, const StoppingPlan& plan) {
  OrderedJson json;
  json["advice"] = ToText(next.advice);
  json["another_trial"] = next.advice == Advice::kContinue;
  json["chance_of_an_answer"] = Probability(next.chance_of_answer);
  json["probability_beyond"] = Probability(next.estimate.probability_beyond);
  json["least_trials"] = plan.least;
  json["most_trials"] = plan.most;
  return json;
}

OrderedJson NormToJson(const Norm& norm, const NormComparison& comparison) {
  OrderedJson json;
  json["id"] = norm.id;
  json["name"] = norm.name;
  json["source"] = norm.source;
  json["ages"] = {norm.age_from, norm.age_to};
  json["targets"] = OrderedJson::array();
  for (const TargetType target : norm.targets) json["targets"].push_back(ToText(target));
  json["plane"] = ToText(comparison.plane);
  json["break_limit_mm"] = JsonMm(norm.break_limit);
  json["recovery_limit_mm"] = JsonMm(norm.recovery_limit);
  json["break_mean_mm"] = MeanToJson(norm.break_mean);
  json["recovery_mean_mm"] = MeanToJson(norm.recovery_mean);
  json["break_mm"] = BandToJson(comparison.break_mm);
  json["recovery_mm"] = BandToJson(comparison.recovery_mm);
  json["break_answer"] = nullptr;
  if (norm.break_limit) json["break_answer"] = ToText(comparison.break_answer);
  json["recovery_answer"] = nullptr;
  if (norm.recovery_limit) json["recovery_answer"] = ToText(comparison.recovery_answer);
  json["break_deviations"] = Deviations(comparison.break_deviations);
  json["recovery_deviations"] = Deviations(comparison.recovery_deviations);
  json["note"] = norm.note;
  json["cautions"] = comparison.cautions;
  return json;
}

OrderedJson ChangeToJson(const ChangeResult& change) {
  OrderedJson json;
  json["change"] = ToText(change.change);
  json["difference_mm"] = JsonMm(change.difference_mm);
  json["reliable_change_mm"] = JsonMm(std::optional(change.limit_mm));
  json["day_to_day_sd_mm"] = JsonMm(std::optional(change.day_to_day_sd_mm));
  json["day_to_day_from"] =
      change.own_day_to_day
          ? "this person's repeats and limits of agreement of Scheiman et al., Ophthalmic Physiol "
            "Opt 2025, doi 10.1111/opo.70022"
          : "limits of agreement of Scheiman et al., Ophthalmic Physiol Opt 2025, doi "
            "10.1111/opo.70022";
  json["times_of_day_differ"] = change.hours_differ;
  return json;
}

OrderedJson ProgressToJson(const Progress& progress) {
  OrderedJson json;
  json["course"] = ToText(progress.course);
  json["sessions_counted"] = progress.sessions_counted;
  json["weeks"] = JsonNumber(progress.weeks, 4);
  json["slope_mm_per_week"] = BandToJson(progress.slope_mm_per_week);
  json["change_mm"] = BandToJson(progress.change_mm);
  json["first_mm"] = BandToJson(progress.first_mm);
  json["last_mm"] = BandToJson(progress.last_mm);
  json["answer"] = ToText(progress.answer);
  json["probability_beyond"] = Probability(progress.probability_beyond);
  json["within_session_sd_mm"] = JsonMm(progress.within_session_sd_mm);
  json["day_to_day_sd_mm"] = JsonMm(progress.day_to_day_sd_mm);
  json["repeatability_limit_mm"] = JsonMm(progress.repeatability_mm);
  json["bent"] = progress.bent;
  json["slope_all_times_of_day_mm_per_week"] = BandToJson(progress.slope_all_hours_mm_per_week);
  json["cautions"] = progress.cautions;
  return json;
}

OrderedJson CriteriaToJson(const std::vector<Criterion>& criteria, const ContextValues& context) {
  OrderedJson json;
  json["criteria"] = OrderedJson::array();
  for (const Criterion& c : criteria) {
    json["criteria"].push_back(
        {{"name", c.name}, {"status", ToText(c.status)}, {"source", c.source}});
  }
  json["sheard_prism_pd"] = Diopters(SheardPrism(context));
  return json;
}

}  // namespace nearpoint
