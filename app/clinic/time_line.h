// One person over time: measurements with their bands, the exercise beside them, and what the two
// together allow to say.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/clinic/session_digest.h"
#include "app/exercise/diary.h"
#include "app/measure/norms.h"
#include "app/measure/progress.h"

namespace nearpoint {

struct TimePoint {
  std::size_t session = 0;  // place in what was given
  double day = 0;
  std::optional<Band> band;  // of the break, from the corneal plane
  Answer answer = Answer::kCannotTell;
  bool counted = false;  // in the course; else why_not says why
  std::string why_not;
  std::optional<double> line_mm;  // the course's line on that day
  std::optional<double> line_low_mm, line_high_mm;
  bool accepted = false;
  bool eyes_disagree = false;
};

struct TimeLine {
  std::vector<TimePoint> points;  // oldest first; simulated ones are left out
  Progress progress;
  Length cut_off;                    // from the corneal plane
  const Norm* limit_from = nullptr;  // absent for want of an age: see LimitFor
  std::optional<MeanAndSd> mean;     // of the break, from the corneal plane, where one is published
  const Norm* mean_from = nullptr;
};

// sessions: oldest first. age_years decides the norm and the limit; without it the limit is that of
// adults. Everything counts from the corneal plane.
[[nodiscard]] TimeLine MakeTimeLine(std::span<const SessionDigest> sessions,
                                    std::optional<double> age_years);

}  // namespace nearpoint
