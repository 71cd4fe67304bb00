// The reaction task that measures how long a person takes from seeing to pressing: when to show the
// mark, which presses count, and what follows for the profile. Pure: the caller shows, listens and
// reads the clock.
//
// Why. Break and recovery are reported by a key. At v mm/s a response that comes t late puts the
// break v t too near and the recovery v t too far. McGinnis et al. (J Eye Mov Res 2019;12(4)) moved
// the target at 1, 3 and 5 cm/s; their means give 0.32 s (computed from three means).
//
// What is corrected. Seeing a flash is simpler than deciding that one has become two, so
//   lag = reaction - display delay + judgement - capture delay.
// The reaction time contains the display's delay; frames are stamped when they arrive, so the
// distance they show is older than their stamp by the capture delay (pipeline_delay.h).
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "calibration/pipeline_delay.h"
#include "vision/core/result.h"
#include "vision/core/units.h"

namespace nearpoint {

inline constexpr int kLagPresses = 10;

// Waiting times before the mark, each from 1.5 to 4.5 s with the longer ones rarer (exponential, so
// that having waited long does not tell that the mark comes now). The same seed gives the same
// times.
[[nodiscard]] std::vector<Time> DrawForeperiods(int count, std::uint64_t seed);

struct LagPress {
  Time shown{};                 // the mark
  std::optional<Time> pressed;  // absent: nobody pressed until the next mark
};

enum class PressUse {
  kCounts,
  kTooEarly,  // before the mark or within 100 ms of it: nobody sees and presses so fast
  kTooLate,   // after 1500 ms: the person was elsewhere
  kOutlier,  // more than three robust deviations (1.4826 times the median deviation) off the median
  kMissed,   // no press
};
[[nodiscard]] std::string ToText(PressUse use);

struct LagResult {
  std::vector<PressUse> uses;  // one for each press given
  int counted = 0;
  Time reaction_mean{};  // of those that count
  Time reaction_sd{};    // from press to press
  Time lag{};            // for the profile; never below 20 ms
  Time lag_sd{};         // of the lag as a whole: mean, judgement and pipeline
};

// Marks in time order. The rule for outliers is applied once, over the presses that are neither
// early nor late. Limits 100 and 1500 ms and three deviations: common practice, no source. Errors:
// kBadValue (times not rising), kInsufficient (fewer than 7 presses count; says which went wrong).
[[nodiscard]] Result<LagResult> EvaluateLag(std::span<const LagPress> presses,
                                            const PipelineDelay& pipeline);

// Deciding that one became two takes longer than seeing a mark appear: 320 ms (McGinnis, computed)
// less 231 ms (Woods et al., Front Hum Neurosci 2015;9:131, read). The deviation is our own
// judgement.
inline constexpr double kJudgementMs = 90;
inline constexpr double kJudgementSdMs = 60;

// For a profile without a reaction task: McGinnis' value, and a spread of people and ages that is
// our own judgement.
inline constexpr double kAssumedLagMs = 320;
inline constexpr double kAssumedLagSdMs = 100;

// A CSV with the header shown_ms,pressed_ms; an empty pressed_ms is a missed mark. where: the file.
// Errors: kBadValue naming the line.
[[nodiscard]] Result<std::vector<LagPress>> ParseLagCsv(std::string_view text,
                                                        const std::string& where);

}  // namespace nearpoint
