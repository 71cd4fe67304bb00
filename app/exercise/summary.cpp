#include "app/exercise/summary.h"

#include <vector>

#include "app/exercise/pair_geometry.h"
#include "app/measure/convergence.h"
#include "app/measure/robust.h"

namespace nearpoint {
namespace {

UncertainLength Reach(const Attempt& a, const PairView& view) {
  // The plane of the pair as it was: d (p + s) / p.
  const Length fixation = a.asked + kCorneaToRotation;
  const Length screen = fixation * ((view.pupils.value + a.separation) / view.pupils.value);
  return {a.asked, FusionDistance(view.pupils, a.separation, {screen, view.screen.sd}).sd};
}

}  // namespace

ExerciseSummary Summarise(std::span<const Attempt> attempts, int asked, const PairView& view) {
  ExerciseSummary summary;
  summary.asked = asked;
  summary.attempts = static_cast<int>(attempts.size());
  std::vector<double> fusing;
  for (const Attempt& a : attempts) {
    if (!a.counted()) {
      ++summary.reasons[*a.why];
      continue;
    }
    ++summary.counted;
    summary.held_s += a.held_s;
    if (a.fusing_s) fusing.push_back(*a.fusing_s);
    if (!summary.reach || a.asked < summary.reach->value) summary.reach = Reach(a, view);
  }
  if (!fusing.empty()) summary.fusing_s = MedianOf(std::move(fusing));
  summary.tiredness = FindTiredness(attempts);
  return summary;
}

}  // namespace nearpoint
