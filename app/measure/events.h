// What the patient reported and when: the lines of EVENTS.jsonl.
#pragma once

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

struct Event {
  Time time;
  EventKind kind;
};

}  // namespace nearpoint
