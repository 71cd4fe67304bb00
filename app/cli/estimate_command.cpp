#include "app/cli/estimate_command.h"

#include <algorithm>

#include "app/cli/console.h"
#include "app/measure/estimate.h"
#include "app/records/estimate_csv.h"
#include "app/records/estimate_json.h"
#include "app/records/session_json.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

bool LooksLikeJson(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  return first != std::string_view::npos && (text[first] == '{' || text[first] == '[');
}

// Trials are kept from the corneal plane; those of a ruler were read from another.
void CountFromCorneal(std::vector<Trial>& trials, ReferencePlane plane) {
  const auto move = [plane](Length& length) {
    length = MoveToPlane(length, plane, ReferencePlane::kCorneal);
  };
  for (Trial& trial : trials) {
    if (trial.break_point) move(trial.break_point->value.value);
    if (trial.recovery) move(trial.recovery->value.value);
    if (trial.limit) move(*trial.limit);
  }
}

Result<SessionTrials> ReadTrials(const std::string& file, ReferencePlane plane) {
  const auto text = ReadTextFile(file);
  if (!text) return tl::unexpected(text.error());
  if (LooksLikeJson(*text)) return ParseSessionTrials(*text, file);
  auto trials = ParseTrialsCsv(*text, file);
  if (!trials) return tl::unexpected(trials.error());
  CountFromCorneal(*trials, plane);
  return SessionTrials{*std::move(trials), {}};
}

}  // namespace

Result<void> RunEstimate(const EstimateCommandArguments& arguments) {
  std::vector<Trial> trials;
  SharedCalibration shared;
  for (const std::string& file : arguments.files) {
    const auto session = ReadTrials(file, arguments.estimate.plane);
    if (!session) return tl::unexpected(session.error());
    trials.insert(trials.end(), session->trials.begin(), session->trials.end());
    shared.relative_sd = std::max(shared.relative_sd, session->shared.relative_sd);
    shared.offset_sd = std::max(shared.offset_sd, session->shared.offset_sd);
    shared.lag_sd = std::max(shared.lag_sd, session->shared.lag_sd);
  }
  const Estimate estimate = EstimateNearPoint(trials, shared, OptionsOf(arguments.estimate));
  auto json = EstimateToJson(estimate);
  json["cut_off_from"] = CutOffSource(arguments.estimate);
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  return sink->Write(json.dump(2) + '\n');
}

}  // namespace nearpoint
