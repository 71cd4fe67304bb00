// The near point with its band from several trials.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "vision/core/units.h"

namespace nearpoint {

struct Band {
  double value = 0;  // mm, or mm per trial for a trend
  double low = 0;
  double high = 0;
  double level = 0.95;
};

enum class Answer {
  kBeyond,       // the band lies beyond the cut-off
  kWithin,       // the band lies within the cut-off
  kCannotTell,   // the band straddles it, or there is no band
};
[[nodiscard]] std::string_view ToText(Answer answer);

struct Estimate {
  std::optional<Band> break_mm;
  std::optional<Band> recovery_mm;
  std::optional<Band> trend_mm_per_trial;
  std::optional<double> between_trial_sd_mm;
  Answer answer = Answer::kCannotTell;
  Length cut_off;
  std::string reference_plane;  // the plane all values and the cut-off are stated in
  std::vector<std::string> cautions;  // plain sentences
};

}  // namespace nearpoint
