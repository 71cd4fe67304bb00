// The course of one stored trial, read back from its track.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace nearpoint {

struct TracePoint {
  double seconds = 0;  // from the first frame of the trial
  std::optional<double> distance_mm;
  // Both eyes together: what the target asked for and what they did, degrees.
  std::optional<double> vergence_deg, demand_deg;
  // Each eye alone, toward the nose positive.
  std::optional<double> left_deg, right_deg;
};

struct TrialTrace {
  double first_ms = 0;  // on the clock of the frames
  std::vector<TracePoint> points;
  double seen_fraction = 0;  // of the frames, those with a distance
};

// Lines that are not of the track's form are left out: the store wrote them, and a picture with a
// gap is better than none.
[[nodiscard]] TrialTrace ParseTrace(const std::string& track_jsonl);

}  // namespace nearpoint
