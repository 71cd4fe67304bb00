// What a SESSION.json says of how its trials went, beyond what an estimate needs: for who looks at
// them afterwards.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

// Times are on the clock of the frames, as in the track. What the file does not say is absent.
struct TrialCourse {
  int number = 0;
  std::optional<Time> start, reported_double, reported_single, end;
  std::optional<Time> eyes_left, eyes_back;  // as seen in the eyes
  std::optional<Length> left_at, back_at;    // where, from the corneal plane
  std::string drifting_eye;                  // "left", "right", "both"; "" unclear or none
  std::optional<double> seen;                // of the trial's frames, those with a distance: 0..1
  std::string agreement;                     // ToText(Agreement); "" where it is not said
  std::vector<std::string> notes;            // plain sentences
};

// How the eyes felt afterwards, in the words of the home program: "fine", "tired", "discomfort",
// "double" (double vision stayed); "" when nobody asked.
struct SessionCourse {
  std::vector<TrialCourse> trials;  // in the order of the file
  std::string comfort;
  bool eyes_disagree = false;  // reports and eyes tell different stories
  std::vector<std::string> agreement;
  std::optional<double> seen;  // of all frames of the session, those with a distance: 0..1
};

// kBadValue: not a session file. A field of another type than expected counts as absent: nothing is
// measured from here.
[[nodiscard]] Result<SessionCourse> ParseSessionCourse(std::string_view text,
                                                       const std::string& where);

// The same file with how the eyes felt afterwards written into it. kBadValue: not JSON.
[[nodiscard]] Result<std::string> WithComfort(std::string_view session_text,
                                              std::string_view comfort);

}  // namespace nearpoint
