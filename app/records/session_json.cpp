#include "app/records/session_json.h"

#include <algorithm>
#include <array>
#include <optional>

#include "app/records/estimate_json.h"
#include "app/records/json_number.h"
#include "calibration/fixation_letter.h"
#include "calibration/glasses_json.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr std::array kCensorings{Censoring::kNone, Censoring::kBelow, Censoring::kAbove};
constexpr NumberRule kMm{1, 3000, "millimetres"};
constexpr NumberRule kSd{0, 1000, "one standard deviation in millimetres"};

OrderedJson EyeName(DriftingEye eye) {
  switch (eye) {
    case DriftingEye::kLeft:
      return "left";
    case DriftingEye::kRight:
      return "right";
    case DriftingEye::kBoth:
      return "both";
    case DriftingEye::kUnclear:
      return nullptr;
  }
  return nullptr;
}

// Every sentence once: that about the fixation may also be the one about the agreement.
std::vector<std::string> NotesOf(const TrialEyes& eyes) {
  std::vector<std::string> notes;
  const auto add = [&notes](const std::string& sentence) {
    if (!sentence.empty() && std::ranges::find(notes, sentence) == notes.end())
      notes.push_back(sentence);
  };
  std::ranges::for_each(eyes.objective.notes, add);
  add(eyes.agreement.sentence);
  return notes;
}

// Why the person's own gain is not stated, when it is not.
OrderedJson WhyNotLearned(const ObjectiveResult& seen) {
  if (seen.personal.learned) return nullptr;
  const std::string& why =
      seen.personal.why_not.empty() ? seen.fixation.sentence : seen.personal.why_not;
  return why.empty() ? OrderedJson("The eyes were not analysed.") : OrderedJson(why);
}

void AddEyes(OrderedJson& json, const TrialEyes& eyes) {
  const ObjectiveResult& seen = eyes.objective;
  const auto sd = [](const std::optional<ObjectiveEvent>& event) {
    return event && event->distance ? std::optional(event->distance->sd) : std::nullopt;
  };
  const auto time = [](const std::optional<ObjectiveEvent>& event) {
    return event ? std::optional(event->time) : std::nullopt;
  };
  const bool broke = seen.break_point.has_value();
  json["objective_break_sd_mm"] = JsonMm(sd(seen.break_point));
  json["objective_break_t_ms"] = JsonMs(time(seen.break_point));
  json["objective_recovery_sd_mm"] = JsonMm(sd(seen.recovery));
  json["objective_recovery_t_ms"] = JsonMs(time(seen.recovery));
  json["drifting_eye"] = broke ? EyeName(seen.eye) : nullptr;
  // Of the eye named; of the likeliest when none is.
  json["drifting_eye_probability"] =
      broke ? JsonNumber(seen.eye_probability, 6) : OrderedJson(nullptr);
  json["drift_deg"] = JsonDegrees(broke ? std::optional(seen.break_point->size) : std::nullopt);
  json["drift_sd_deg"] =
      JsonDegrees(broke ? std::optional(seen.break_point->size_sd) : std::nullopt);
  // Nothing was weighed where both eyes were not seen on the target.
  json["drift_probability"] = nullptr;
  if (!seen.set_aside && seen.frames_used > 0) {
    json["drift_probability"] = JsonNumber(seen.probability, 6);
  }
  json["report_minus_drift_ms"] = JsonMs(eyes.agreement.break_lag);
  json["report_minus_return_ms"] = JsonMs(eyes.agreement.recovery_lag);
  const bool learned = seen.personal.learned;
  const PersonalResponse& response = seen.personal.vergence;
  const auto number = [learned](double value) {
    return learned ? JsonNumber(value, 4) : OrderedJson(nullptr);
  };
  json["vergence_gain"] = number(response.gain);
  json["vergence_gain_sd"] = number(response.gain_sd());
  json["vergence_offset_deg"] = number(response.offset.deg());
  json["vergence_offset_sd_deg"] = number(response.offset_sd().deg());
  json["vergence_why_not"] = WhyNotLearned(seen);
  json["agreement"] = ToText(eyes.agreement.agreement);
  json["notes"] = NotesOf(eyes);
}

OrderedJson AgreementToJson(const SessionAgreement& agreement) {
  OrderedJson json;
  json["flagged"] = agreement.flagged;
  json["median_report_minus_drift_ms"] = JsonMs(agreement.median_break_lag);
  json["report_minus_drift_spread_ms"] = JsonMs(agreement.break_lag_spread);
  json["median_report_minus_return_ms"] = JsonMs(agreement.median_recovery_lag);
  json["sentences"] = agreement.sentences;
  return json;
}

OrderedJson TrialToJson(const Trial& trial, const TrialEyes& eyes) {
  const auto value = [](const std::optional<EventDistance>& at) {
    return at ? std::optional(at->value.value) : std::nullopt;
  };
  const auto sd = [](const std::optional<EventDistance>& at) {
    return at ? std::optional(at->value.sd) : std::nullopt;
  };
  const auto uncorrected = [](const std::optional<EventDistance>& at) {
    return at ? std::optional(at->uncorrected) : std::nullopt;
  };
  const auto time = [](const std::optional<EventDistance>& at) {
    return at ? std::optional(at->time) : std::nullopt;
  };
  const bool censored = trial.censored != Censoring::kNone;
  OrderedJson json;
  json["number"] = trial.number;
  // A censored trial states the distance that bounds its break.
  json["break_mm"] = JsonMm(censored ? trial.limit : value(trial.break_point));
  json["break_sd_mm"] = JsonMm(censored ? std::nullopt : sd(trial.break_point));
  json["recovery_mm"] = JsonMm(value(trial.recovery));
  json["recovery_sd_mm"] = JsonMm(sd(trial.recovery));
  json["censored"] = nullptr;
  if (censored) json["censored"] = ToText(trial.censored);
  json["objective_break_mm"] = JsonMm(trial.objective_break);
  json["objective_recovery_mm"] = JsonMm(trial.objective_recovery);
  json["approach_speed_mm_s"] = nullptr;
  if (trial.approach_speed) {
    json["approach_speed_mm_s"] = JsonNumber(trial.approach_speed->mm_per_s(), 3);
  }
  json["set_aside"] = nullptr;
  if (trial.set_aside) json["set_aside"] = SetAsideText(trial);
  json["break_uncorrected_mm"] = JsonMm(uncorrected(trial.break_point));
  json["recovery_uncorrected_mm"] = JsonMm(uncorrected(trial.recovery));
  json["start_mm"] = JsonMm(trial.start_distance);
  json["nearest_mm"] = JsonMm(trial.nearest);
  json["valid_fraction"] = JsonNumber(trial.valid_fraction, 4);
  json["start_t_ms"] = JsonMs(trial.start);
  json["break_t_ms"] = JsonMs(time(trial.break_point));
  json["recovery_t_ms"] = JsonMs(time(trial.recovery));
  json["end_t_ms"] = JsonMs(trial.end);
  AddEyes(json, eyes);
  return json;
}

EventDistance Reading(double mm, double sd_mm) {
  EventDistance at;
  at.value = {Length::Millimeters(mm), Length::Millimeters(sd_mm)};
  return at;
}

// The break, or the bound of it, of a trial that counts.
void ReadBreak(JsonFields& fields, Trial& trial) {
  const auto break_mm = fields.NumberOrNull("break_mm", kMm);
  const auto break_sd_mm = fields.NumberOrNull("break_sd_mm", kSd);
  const auto word = fields.TextOrNull("censored", "\"below\" or \"above\"");
  const auto censoring = std::find_if(kCensorings.begin(), kCensorings.end(),
                                      [&](Censoring c) { return ToText(c) == word.value_or(""); });
  if (censoring == kCensorings.end() || (word && word->empty())) {
    fields.Refuse("censored", "\"below\", \"above\" or null");
    return;
  }
  trial.censored = *censoring;
  if (!break_mm) {
    if (!trial.set_aside) fields.Refuse("break_mm", "a number in a trial that is not set aside");
    return;
  }
  if (trial.censored == Censoring::kNone) {
    if (!break_sd_mm) fields.Refuse("break_sd_mm", "a number beside \"break_mm\"");
    trial.break_point = Reading(*break_mm, break_sd_mm.value_or(0));
  } else {
    trial.limit = Length::Millimeters(*break_mm);
  }
}

// A session written by another hand may be without what only says more.
std::optional<double> NumberIfThere(const nlohmann::json& json, JsonFields& fields,
                                    std::string_view name, const NumberRule& rule) {
  fields.Allow({name});
  if (!json.is_object() || !json.contains(name)) return std::nullopt;
  return fields.NumberOrNull(name, rule);
}

Trial ReadTrial(const nlohmann::json& json, JsonFields& fields, int place) {
  Trial trial;
  trial.number =
      static_cast<int>(NumberIfThere(json, fields, "number", {1, 100000, "the number of the trial"})
                           .value_or(place));
  if (const auto reason = fields.TextOrNull("set_aside", "the reason in words")) {
    trial.set_aside = ParseSetAside(*reason).value_or(SetAside::kByHand);
    if (*trial.set_aside == SetAside::kByHand) trial.set_aside_words = *reason;
  }
  ReadBreak(fields, trial);
  const auto recovery_mm = fields.NumberOrNull("recovery_mm", kMm);
  const auto recovery_sd_mm = fields.NumberOrNull("recovery_sd_mm", kSd);
  if (recovery_mm) {
    if (!recovery_sd_mm) fields.Refuse("recovery_sd_mm", "a number beside \"recovery_mm\"");
    trial.recovery = Reading(*recovery_mm, recovery_sd_mm.value_or(0));
  }
  const auto break_seen = NumberIfThere(json, fields, "break_uncorrected_mm", kMm);
  if (break_seen && trial.break_point) {
    trial.break_point->uncorrected = Length::Millimeters(*break_seen);
  }
  const auto recovery_seen = NumberIfThere(json, fields, "recovery_uncorrected_mm", kMm);
  if (recovery_seen && trial.recovery) {
    trial.recovery->uncorrected = Length::Millimeters(*recovery_seen);
  }
  if (const auto start = NumberIfThere(json, fields, "start_mm", kMm)) {
    trial.start_distance = Length::Millimeters(*start);
  }
  if (const auto speed =
          fields.NumberOrNull("approach_speed_mm_s", {0, 10000, "millimetres a second"})) {
    trial.approach_speed = Speed::MillimetersPerSecond(*speed);
  }
  fields.RefuseMisspelt();
  return trial;
}

// Minutes of arc of the target's finest detail where it doubled.
OrderedJson DetailAtBreak(const Session& session) {
  const auto& band = session.estimate.break_mm;
  if (!band || !band->value || *band->value <= 0) return nullptr;
  return JsonNumber(ArcminOf(*session.target_detail, Length::Millimeters(*band->value)), 2);
}

}  // namespace

std::string SerializeSession(const Session& session) {
  OrderedJson json;
  json["schema"] = "nearpoint/session/1";
  json["started_at"] = nullptr;
  if (session.started_at) json["started_at"] = *session.started_at;
  json["software"] = nullptr;
  if (session.software) json["software"] = *session.software;
  json["target"] = nullptr;
  if (session.target) json["target"] = *session.target;
  if (session.target_on) json["target_on"] = *session.target_on;
  if (session.target_detail) {
    json["target_detail_mm"] = JsonMm(session.target_detail);
    json["target_detail_arcmin_at_break"] = DetailAtBreak(session);
  }
  json["source"] = session.source;
  json["frames"] = {{"seen", session.frames},
                    {"without_distance", session.frames_lost},
                    {"missing", session.frames_missing}};
  if (session.glasses) {
    json["glasses"] = GlassesToJson(*session.glasses);
    const auto seen = [](const std::optional<LensEstimate>& lens) -> OrderedJson {
      if (!lens) return nullptr;
      return {{"power", JsonNumber(lens->diopters, 3)},
              {"power_sd", JsonNumber(lens->sd_diopters, 3)}};
    };
    json["glasses"]["seen"] = {{"right", seen(session.right_lens)},
                               {"left", seen(session.left_lens)}};
  }
  json["trials"] = OrderedJson::array();
  for (std::size_t i = 0; i < session.trials.size(); ++i) {
    json["trials"].push_back(
        TrialToJson(session.trials[i], i < session.eyes.size() ? session.eyes[i] : TrialEyes()));
  }
  json["agreement"] = AgreementToJson(session.agreement);
  json["estimate"] = EstimateToJson(session.estimate);
  json["estimate"]["set_aside"] = RuleEffectsToJson(session.set_aside);
  json["estimate"]["cut_off_from"] = session.cut_off_from;
  json["shared_calibration"] = {{"relative_sd", JsonNumber(session.shared.relative_sd, 6)},
                                {"offset_sd_mm", JsonMm(std::optional(session.shared.offset_sd))},
                                {"lag_sd_ms", JsonMs(session.shared.lag_sd)}};
  std::vector<std::string> cautions = session.cautions;
  cautions.insert(cautions.end(), session.estimate.cautions.begin(),
                  session.estimate.cautions.end());
  json["cautions"] = cautions;
  return json.dump(2, ' ', false, OrderedJson::error_handler_t::replace) + "\n";
}

Result<SessionTrials> ParseSessionTrials(std::string_view text, const std::string& where) {
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  if (auto schema = CheckSchema(*document, "session", where); !schema) {
    return tl::unexpected(schema.error());
  }
  SessionTrials session;
  JsonFields fields(*document, where);
  fields.Allow({"started_at"});
  if (document->contains("started_at")) {
    if (const auto written = fields.TextOrNull("started_at", "a moment in words or null")) {
      auto moment = ParseMoment(*written);
      if (!moment)
        fields.Refuse("started_at", moment.error().message);
      else
        session.started_at = *std::move(moment);
    }
  }
  const nlohmann::json& trials = fields.Array("trials");
  if (!fields.ok()) return tl::unexpected(*fields.error());
  int number = 0;
  for (const nlohmann::json& json : trials) {
    JsonFields trial(json, where, "trials[" + std::to_string(number) + "].");
    ++number;
    session.trials.push_back(ReadTrial(json, trial, number));
    if (!trial.ok()) return tl::unexpected(*trial.error());
  }
  if (document->contains("shared_calibration")) {
    JsonFields shared(document->at("shared_calibration"), where, "shared_calibration.");
    session.shared.relative_sd = shared.Number("relative_sd", {0, 1, "a fraction"});
    session.shared.offset_sd = Length::Millimeters(shared.Number("offset_sd_mm", kSd));
    session.shared.lag_sd =
        FromMilliseconds(shared.Number("lag_sd_ms", {0, 10000, "milliseconds"}));
    if (!shared.ok()) return tl::unexpected(*shared.error());
  }
  return session;
}

}  // namespace nearpoint
