#include "app/measure/observations.h"

#include <cmath>

namespace nearpoint {

bool HasBreak(const Trial& trial) {
  if (trial.censored != Censoring::kNone) return trial.limit && std::isfinite(trial.limit->mm());
  return trial.break_point && std::isfinite(trial.break_point->value.value.mm());
}

bool Counts(const Trial& trial) { return !trial.set_aside && HasBreak(trial); }

double VarianceOf(const EventDistance& event) {
  const double sd = event.value.sd.mm();
  return std::isfinite(sd) && sd > 0 ? sd * sd : 0;
}

std::vector<Observation> BreakObservations(std::span<const Trial> trials) {
  std::vector<Observation> observations;
  double sum = 0;
  for (const Trial& trial : trials) {
    if (!Counts(trial)) continue;
    sum += trial.number;
    Observation o;
    o.position = trial.number;
    o.censoring = trial.censored;
    if (trial.censored == Censoring::kNone) {
      o.value = trial.break_point->value.value.mm();
      o.variance = VarianceOf(*trial.break_point);
    } else {
      o.value = trial.limit->mm();
    }
    observations.push_back(o);
  }
  for (Observation& o : observations) o.position -= sum / static_cast<double>(observations.size());
  return observations;
}

}  // namespace nearpoint
