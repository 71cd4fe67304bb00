#include "app/report/plane_note.h"

#include <algorithm>
#include <cmath>

#include "app/measure/shown_number.h"

namespace nearpoint {
namespace {

std::string NameOf(ReferencePlane plane, WordsIn words) {
  const bool english = words == WordsIn::kEnglish;
  switch (plane) {
    case ReferencePlane::kCorneal:
      return english ? "the front of the eye" : "von der Vorderseite des Auges";
    case ReferencePlane::kSpectacle:
      return english ? "where glasses sit" : "vom Ort eines Brillenglases";
    case ReferencePlane::kLateralCanthus:
      return english ? "the outer corner of the eye" : "vom äußeren Augenwinkel";
    case ReferencePlane::kCentreOfRotation:
      return english ? "the middle of the eye" : "von der Mitte des Auges";
  }
  return "";
}

}  // namespace

std::string PlaneNote(ReferencePlane shown, ReferencePlane other, WordsIn words) {
  const double larger_mm = MoveToPlane(Length(), shown, other).mm();
  if (larger_mm == 0) return "";
  std::string by = ShownCentimeters(std::abs(larger_mm));
  const bool larger = larger_mm > 0;
  if (words == WordsIn::kEnglish) {
    return "The numbers here are counted from " + NameOf(shown, words) +
           "; the same near point counted from " + NameOf(other, words) + " is " + by +
           (larger ? " larger." : " smaller.");
  }
  std::ranges::replace(by, '.', ',');
  return "Die Zahlen hier zählen " + NameOf(shown, words) + "; derselbe Nahpunkt, " +
         NameOf(other, words) + " gezählt, ist " + by + (larger ? " größer." : " kleiner.");
}

}  // namespace nearpoint
