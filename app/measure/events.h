// What the patient reported and when: the lines of EVENTS.jsonl.
#pragma once

#include <optional>
#include <string_view>

#include "vision/core/units.h"

namespace nearpoint {

enum class EventKind {
  kTrialStart,  // "trial_start"
  kDouble,      // "double": the target became two
  kSingle,      // "single": it became one again
  kNoDouble,    // "no_double": single down to the nearest point
  kTrialEnd,    // "trial_end"
};
[[nodiscard]] std::string_view ToText(EventKind kind);  // the words above
[[nodiscard]] std::optional<EventKind> ParseEventKind(std::string_view text);

struct Event {
  Time time;
  EventKind kind;
};

}  // namespace nearpoint
