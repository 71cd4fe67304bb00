// Whether measuring a child with the card is worth its two minutes.
#pragma once

#include "app/event/record.h"

namespace nearpoint {

// The band lies on both sides of the limit, so a scale of the child's own may decide. It says
// nothing about the side that is likelier, and is asked of every child alike. Not where the card
// was used already, where nothing counts, or where reports and eyes tell different stories: no
// scale mends that.
[[nodiscard]] inline bool CardMayTell(const ChildMeasured& what) {
  if (what.card || what.contradicted || what.trials_used == 0) return false;
  const bool reaches_below = !what.low_mm || *what.low_mm < what.cut_off_mm;
  return reaches_below && what.high_mm && *what.high_mm > what.cut_off_mm;
}

}  // namespace nearpoint
