#include "app/measure/convergence.h"

#include <cmath>

namespace nearpoint {

PrismDiopters ConvergenceDemand(Length pd, Length x, Length k) {
  return PrismDiopters::Of(100 * (pd / (x + k)));
}

Angle ConvergenceAngle(Length pd, Length x, Length k) {
  return Angle::Radians(2 * std::atan(pd / (2 * (x + k))));
}

double MetreAngles(Length x, Length k) { return Length::Millimeters(1000) / (x + k); }

PrismDiopters DemandPerMillimeter(Length pd, Length x, Length k) {
  return PrismDiopters::Of(-100 * (pd / (x + k)) * (Length::Millimeters(1) / (x + k)));
}

Length DistanceOfDemand(Length pd, PrismDiopters demand, Length k) {
  return pd * (100 / demand.value()) - k;
}

}  // namespace nearpoint
