// nearpoint track: one line for each frame.
#pragma once

#include <optional>
#include <string>

#include "vision/core/result.h"

namespace nearpoint {

struct TrackArguments {
  std::string source;
  std::string profile;
  std::string person;              // whom the profile must be of; empty: not said
  std::optional<std::string> out;  // absent: standard output
};

[[nodiscard]] Result<void> RunTrack(const TrackArguments& arguments);

}  // namespace nearpoint
