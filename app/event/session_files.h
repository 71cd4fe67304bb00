// What the sessions of an event are called as files: made by the program from digits alone, never
// taken from what somebody typed.
#pragma once

#include <string>
#include <vector>

#include "app/event/event_state.h"

namespace nearpoint {

struct SessionFile {
  const ChildState* child = nullptr;
  const Measurement* made = nullptr;
  std::string name;  // "0012.json"; "0012-2.json" for the second of a conflict
};

// Of every measurement that stands, in the order of the children. `state` must outlive it.
[[nodiscard]] std::vector<SessionFile> SessionFilesOf(const EventState& state);

}  // namespace nearpoint
