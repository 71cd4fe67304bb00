// A child who does not report: the trial by what its eyes did.
#pragma once

#include <span>
#include <vector>

#include "app/event/record.h"
#include "app/measure/objective_break.h"
#include "app/measure/trial.h"
#include "app/records/session_json.h"

namespace nearpoint {

// An eye that would have drifted less than this is not told from one that stayed. Ours, no source:
// near the size of drift that most breaks on rendered faces were made with.
inline constexpr double kRuledOutDegrees = 8;

// The break where an eye left the target. "Single to the nearest point" where none did, a drift of
// kRuledOutDegrees would have been seen, and the child came at least as near as cut_off (corneal
// plane): who turns round before it says nothing about it, not even where an eye seemed to leave
// just then. Otherwise, and where the eyes did not look, the trial does not count: nobody knows.
// Trials set aside for another reason than the missing report stay so. What was reported plays no
// part.
[[nodiscard]] Trial ByTheEyes(Trial trial, const ObjectiveResult& eyes, Length cut_off);

// What the file of the event keeps of a measurement: by the report where enough trials with one
// count, and then whether the eyes contradict it (CompareSession); else by the eyes where more of
// theirs do. trials and eyes go together, or eyes is empty; shared: of the session.
[[nodiscard]] ChildMeasured MeasuredFrom(std::span<const Trial> trials,
                                         std::span<const TrialEyes> eyes,
                                         const SharedCalibration& shared,
                                         const EstimateOptions& options, int least_trials);

}  // namespace nearpoint
