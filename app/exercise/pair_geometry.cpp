#include "app/exercise/pair_geometry.h"

#include <cmath>

namespace nearpoint {

Length FusionDistance(Length pupils, Length separation, Length screen) {
  return screen * (pupils / (pupils + separation));
}

Length PairSeparation(Length pupils, Length fixation, Length screen) {
  return pupils * ((screen - fixation) / fixation);
}

Angle PairAngle(Length pupils, Length separation, Length screen) {
  return Angle::Radians(2 * std::atan(0.5 * ((pupils + separation) / screen)));
}

PrismDiopters PairDemand(Length pupils, Length separation, Length screen) {
  return PrismDiopters::Of(100 * ((pupils + separation) / screen));
}

Angle ExtraAngle(Length pupils, Length separation, Length screen) {
  return PairAngle(pupils, separation, screen) - PairAngle(pupils, Length(), screen);
}

PrismDiopters ExtraDemand(Length separation, Length screen) {
  return PrismDiopters::Of(100 * (separation / screen));
}

Length CrossingDistance(Length pupils, Angle vergence) {
  return pupils / (2 * std::tan(vergence.rad() / 2));
}

UncertainLength FusionDistance(UncertainLength pupils, Length separation, UncertainLength screen) {
  const double p = pupils.value.mm();
  const double s = separation.mm();
  const double per_pupil = screen.value.mm() * s / ((p + s) * (p + s));
  const double per_screen = p / (p + s);
  return {FusionDistance(pupils.value, separation, screen.value),
          Length::Millimeters(std::hypot(per_pupil * pupils.sd.mm(), per_screen * screen.sd.mm()))};
}

DoubleImage FarImages(Length pupils, Length fixation, Length screen) {
  // The figure's direction from the eye, against the direction in which that eye is pointed: the
  // right eye points to the left of the figure by half the separation, so it sees it to the right.
  const Length half = PairSeparation(pupils, fixation, screen) / 2;
  return {half, -half};
}

}  // namespace nearpoint
