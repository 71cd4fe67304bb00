#include "app/records/estimate_json.h"

#include "app/records/json_number.h"

namespace nearpoint {

OrderedJson BandToJson(const std::optional<Band>& band) {
  if (!band) return nullptr;
  OrderedJson json;
  json["value"] = JsonMm(band->value);
  json["low"] = JsonMm(std::optional<double>(band->low));
  json["high"] = JsonMm(band->high);
  json["level"] = JsonNumber(band->level, 6);
  return json;
}

OrderedJson EstimateToJson(const Estimate& estimate) {
  OrderedJson json;
  json["break_mm"] = BandToJson(estimate.break_mm);
  json["recovery_mm"] = BandToJson(estimate.recovery_mm);
  json["trend_mm_per_trial"] = BandToJson(estimate.trend_mm_per_trial);
  json["between_trial_sd_mm"] = JsonMm(estimate.between_trial_sd_mm);
  json["answer"] = ToText(estimate.answer);
  json["cut_off_mm"] = JsonMm(estimate.cut_off);
  json["reference_plane"] = estimate.reference_plane;
  json["probability_beyond"] = nullptr;
  if (estimate.probability_beyond) {
    json["probability_beyond"] = JsonNumber(*estimate.probability_beyond, 6);
  }
  json["recovery_minus_break_mm"] = BandToJson(estimate.recovery_minus_break_mm);
  // The mean of what the lag correction added to the break; the value without it is this much less.
  json["lag_correction_mm"] = JsonMm(estimate.lag_correction_mm);
  json["trend_present"] = estimate.trend_present;
  json["first_break_mm"] = BandToJson(estimate.first_break_mm);
  json["last_break_mm"] = BandToJson(estimate.last_break_mm);
  json["trials_used"] = estimate.trials_used;
  json["trials_censored_below"] = estimate.trials_censored_below;
  json["trials_censored_above"] = estimate.trials_censored_above;
  json["calibration_sd_mm"] = JsonNumber(estimate.shared_sd_mm, 4);
  json["cautions"] = estimate.cautions;
  return json;
}

OrderedJson RuleEffectsToJson(std::span<const RuleEffect> effects) {
  OrderedJson list = OrderedJson::array();
  for (const RuleEffect& effect : effects) {
    OrderedJson json;
    json["reason"] = effect.reason;
    json["trials"] = effect.trials;
    json["without_distance"] = effect.no_value;
    json["without_this_rule"] = nullptr;
    if (effect.without_rule) {
      json["without_this_rule"] = {{"break_mm", BandToJson(effect.without_rule->break_mm)},
                                   {"recovery_mm", BandToJson(effect.without_rule->recovery_mm)},
                                   {"answer", ToText(effect.without_rule->answer)},
                                   {"trials_used", effect.without_rule->trials_used}};
    }
    list.push_back(json);
  }
  return list;
}

}  // namespace nearpoint
