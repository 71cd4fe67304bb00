#include "app/records/stored_session.h"

#include <algorithm>

#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr NumberRule kMm{-1000, 5000, "millimetres"};
constexpr NumberRule kCount{0, 100000, "a count"};

// Reads members of the estimate; the first thing wrong is kept in the fields of the whole.
class EstimateReader {
 public:
  EstimateReader(const nlohmann::json& json, const std::string& where)
      : json_(json), where_(where), fields_(json, where, "estimate.") {}

  std::optional<Band> ReadBand(const char* name, bool required) {
    if (!json_.is_object() || !json_.contains(name)) {
      if (required) fields_.Refuse(name, "a band or null");
      return std::nullopt;
    }
    const nlohmann::json& json = json_.at(name);
    if (json.is_null()) return std::nullopt;
    JsonFields fields(json, where_, std::string("estimate.") + name + ".");
    Band band;
    band.value = fields.NumberOrNull("value", kMm);
    band.low = fields.Number("low", kMm);
    band.high = fields.NumberOrNull("high", kMm);
    band.level = fields.Number("level", {0.5, 1, "a level"});
    if (fields.ok() && band.high && *band.high < band.low) {
      fields.Refuse("high", "a number that is not below \"low\"");
    }
    fields_.Adopt(fields);
    return band;
  }
  std::optional<double> NumberIfThere(const char* name, const NumberRule& rule) {
    if (!json_.is_object() || !json_.contains(name)) return std::nullopt;
    return fields_.NumberOrNull(name, rule);
  }
  JsonFields& fields() { return fields_; }

 private:
  const nlohmann::json& json_;
  std::string where_;
  JsonFields fields_;
};

Answer ReadAnswer(JsonFields& fields) {
  const std::string text = fields.Text("answer", "an answer in words");
  for (const Answer answer : {Answer::kBeyond, Answer::kWithin, Answer::kCannotTell}) {
    if (ToText(answer) == text) return answer;
  }
  fields.Refuse("answer", "\"beyond the cut-off\", \"within the cut-off\" or \"cannot tell yet\"");
  return Answer::kCannotTell;
}

Result<void> ReadEstimate(const nlohmann::json& json, const std::string& where,
                          StoredSession& session) {
  EstimateReader reader(json, where);
  JsonFields& fields = reader.fields();
  Estimate& estimate = session.estimate;
  estimate.break_mm = reader.ReadBand("break_mm", true);
  estimate.recovery_mm = reader.ReadBand("recovery_mm", true);
  estimate.trend_mm_per_trial = reader.ReadBand("trend_mm_per_trial", true);
  estimate.recovery_minus_break_mm = reader.ReadBand("recovery_minus_break_mm", false);
  estimate.first_break_mm = reader.ReadBand("first_break_mm", false);
  estimate.last_break_mm = reader.ReadBand("last_break_mm", false);
  estimate.trend_present = estimate.first_break_mm.has_value();
  estimate.between_trial_sd_mm = fields.NumberOrNull("between_trial_sd_mm", kMm);
  estimate.answer = ReadAnswer(fields);
  estimate.cut_off = Length::Millimeters(fields.Number("cut_off_mm", kMm));
  estimate.reference_plane = fields.Text("reference_plane", "the name of a plane");
  const auto plane = ParsePlane(estimate.reference_plane);
  if (!plane) {
    fields.Refuse("reference_plane",
                  "\"corneal plane\", \"spectacle plane\", \"lateral canthus\" or \"centre of "
                  "rotation\"");
  }
  session.plane = plane.value_or(ReferencePlane::kCorneal);
  estimate.probability_beyond = reader.NumberIfThere("probability_beyond", {0, 1, "a probability"});
  estimate.lag_correction_mm = reader.NumberIfThere("lag_correction_mm", kMm);
  estimate.trials_used = static_cast<int>(reader.NumberIfThere("trials_used", kCount).value_or(0));
  estimate.trials_censored_below =
      static_cast<int>(reader.NumberIfThere("trials_censored_below", kCount).value_or(0));
  estimate.trials_censored_above =
      static_cast<int>(reader.NumberIfThere("trials_censored_above", kCount).value_or(0));
  estimate.shared_sd_mm = reader.NumberIfThere("calibration_sd_mm", kMm).value_or(0);
  if (json.is_object() && json.contains("cut_off_from")) {
    session.cut_off_from = fields.Text("cut_off_from", "whose limit it is, in words");
  }
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return {};
}

}  // namespace

Result<StoredSession> ParseStoredSession(std::string_view text, const std::string& where) {
  auto data = ParseSessionTrials(text, where);
  if (!data) return tl::unexpected(data.error());
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  StoredSession session;
  session.data = *std::move(data);
  JsonFields fields(*document, where);
  const nlohmann::json& estimate = fields.Object("estimate");
  if (!fields.ok()) return tl::unexpected(*fields.error());
  if (auto read = ReadEstimate(estimate, where, session); !read) {
    return tl::unexpected(read.error());
  }
  const auto words = [&](const char* name) -> std::optional<std::string> {
    return document->contains(name) ? fields.TextOrNull(name, "words") : std::nullopt;
  };
  session.source = words("source").value_or("");
  session.software = words("software");
  session.target = words("target");
  if (document->contains("cautions")) {
    for (const nlohmann::json& caution : fields.Array("cautions")) {
      if (!caution.is_string()) fields.Refuse("cautions", "a list of sentences");
      if (!fields.ok()) break;
      session.cautions.push_back(caution.get<std::string>());
    }
  }
  for (const nlohmann::json& trial : fields.Array("trials")) {
    const auto mm = trial.find("objective_break_mm");
    const bool there = mm != trial.end() && mm->is_number();
    session.objective_breaks.push_back(there ? std::optional(Length::Millimeters(mm->get<double>()))
                                             : std::nullopt);
  }
  if (!fields.ok()) return tl::unexpected(*fields.error());
  return session;
}

}  // namespace nearpoint
