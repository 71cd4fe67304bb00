#include "app/exercise/tiredness.h"

#include <algorithm>
#include <map>
#include <vector>

namespace nearpoint {
namespace {

constexpr int kLeastAttempts = 5;
constexpr double kLeastShare = 0.1;
constexpr std::size_t kFailuresInARow = 3;

bool EyesTurnedIn(const Attempt& a) {
  if (!a.reach) return false;
  if (a.counted()) return true;
  switch (*a.why) {
    case NotCounted::kOnlyHandMoved:
    case NotCounted::kOneEyeHidden:
    case NotCounted::kNotSeen:
    case NotCounted::kStopped:
      return false;
    default:
      return true;
  }
}

bool ForTheEyes(const Attempt& a) {
  return a.why == NotCounted::kNotFarEnough || a.why == NotCounted::kNotHeld ||
         a.why == NotCounted::kOneEyeStayed;
}

double MostShown(std::span<const Attempt> attempts) {
  std::map<double, int> shown;
  for (const Attempt& a : attempts) ++shown[a.separation.mm()];
  const auto most = std::ranges::max_element(
      shown, {}, [](const auto& separation_and_times) { return separation_and_times.second; });
  return most == shown.end() ? 0 : most->first;
}

bool Failing(std::span<const Attempt> attempts) {
  if (attempts.size() <= kFailuresInARow) return false;
  const auto last = attempts.last(kFailuresInARow);
  const auto before = attempts.first(attempts.size() - kFailuresInARow);
  return std::ranges::all_of(last, ForTheEyes) &&
         std::ranges::any_of(before, [](const Attempt& a) { return a.counted(); });
}

}  // namespace

Tiredness FindTiredness(std::span<const Attempt> attempts) {
  Tiredness found;
  found.failing = Failing(attempts);
  const double separation = MostShown(attempts);
  std::vector<Trial> trials;
  SharedCalibration shared;
  for (const Attempt& a : attempts) {
    if (a.separation.mm() != separation || !EyesTurnedIn(a)) continue;
    Trial trial;
    trial.number = a.number;
    trial.break_point = EventDistance{a.end, *a.reach, a.reach->value, Speed()};
    trials.push_back(trial);
    shared.offset_sd = std::max(shared.offset_sd, a.reach_shared_sd);
  }
  found.attempts = static_cast<int>(trials.size());
  if (trials.empty()) return found;
  const Estimate estimate = EstimateNearPoint(trials, shared);
  found.reach_mm = estimate.break_mm;
  found.trend_mm = estimate.trend_mm_per_trial;
  if (found.attempts < kLeastAttempts || !found.trend_mm || !found.trend_mm->value ||
      !found.reach_mm || !found.reach_mm->value) {
    return found;
  }
  const int spread = trials.back().number - trials.front().number;
  found.tired = estimate.trend_present && found.trend_mm->low > 0 &&
                *found.trend_mm->value * spread >= kLeastShare * *found.reach_mm->value;
  return found;
}

}  // namespace nearpoint
