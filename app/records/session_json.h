// SESSION.json, schema "nearpoint/session/1": the trials, the estimate, and what they rest on.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/measure/agreement.h"
#include "app/measure/estimate.h"
#include "app/measure/objective_break.h"
#include "app/measure/trial.h"
#include "app/measure/what_if.h"
#include "app/records/moment.h"
#include "calibration/glasses.h"
#include "vision/core/distance_sample.h"
#include "vision/core/result.h"

namespace nearpoint {

// What the eyes say of one trial, and how that goes with the report.
struct TrialEyes {
  ObjectiveResult objective;
  TrialAgreement agreement;
};

struct Session {
  std::optional<std::string> started_at;  // as ParseMoment reads it (moment.h); local, with offset
  std::optional<std::string> software;    // name and version that made it
  std::optional<std::string> target;  // what was looked at, where that is known: ToText(TargetType)
  // "printed", "card" (printed, and brought to the face) or "screen", where that is known
  std::optional<std::string> target_on;
  std::optional<Length> target_detail;  // the finest detail of it, where that is known
  std::string source;                   // what was measured: the description of the frame source
  std::int64_t frames = 0;              // frames seen
  std::int64_t frames_lost = 0;         // of them, frames without a distance
  std::int64_t frames_missing = 0;      // frames that never came: dropped, missing or unreadable
  // What was said of the glasses, and the powers as the frames taught them; absent: nothing.
  std::optional<Glasses> glasses;
  std::optional<LensEstimate> left_lens, right_lens;
  SharedCalibration shared;
  std::vector<Trial> trials;  // every one of them, those set aside included; from the corneal plane
  std::vector<TrialEyes> eyes;  // trial by trial; fewer than the trials: unknown for the others
  SessionAgreement agreement;
  Estimate estimate;
  std::vector<RuleEffect> set_aside;  // what the estimate would be without each rule
  std::string cut_off_from;           // whose limit the estimate is held against
  std::vector<std::string> cautions;  // plain sentences; those of the estimate are added to them
};

// Indented, with a newline at its end.
[[nodiscard]] std::string SerializeSession(const Session& session);

// What an estimate needs of a session file.
struct SessionTrials {
  std::optional<Moment> started_at;
  std::vector<Trial> trials;
  SharedCalibration shared;  // zero where the file does not say
};

// Errors: kNotFound (a field is missing), kBadValue. where: the file, for messages.
[[nodiscard]] Result<SessionTrials> ParseSessionTrials(std::string_view text,
                                                       const std::string& where);

}  // namespace nearpoint
