// How the files of one measurement find each other in a package: the session by its name, each
// trial's track and pictures by that name and the number of the trial.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "app/records/eye_picture.h"

namespace nearpoint {

// "session-20260314-0926.json" and trial 2: "session-20260314-0926.trial-2.jsonl".
[[nodiscard]] std::string TrackName(std::string_view session_name, int trial);
// The session's name without its ending, and the trial; absent for any other name.
[[nodiscard]] std::optional<std::pair<std::string, int>> ParseTrackName(std::string_view name);
// "session-20260314-0926.trial-2.break.jpg".
struct PictureItem {
  std::string stem;  // of the session
  int trial = 0;
  EyeMoment moment = EyeMoment::kBreak;
  friend bool operator==(const PictureItem&, const PictureItem&) = default;
};
[[nodiscard]] std::string PictureName(std::string_view session_name, int trial, EyeMoment moment);
[[nodiscard]] std::optional<PictureItem> ParsePictureName(std::string_view name);
// The session's name without its ending.
[[nodiscard]] std::string StemOf(std::string_view session_name);

}  // namespace nearpoint
