// What is said where numbers of two planes can be held against each other.
#include "app/report/plane_note.h"

#include <gmock/gmock.h>

namespace nearpoint {
namespace {

TEST(PlaneNote, SaysByHowMuchTheOtherDiffers) {
  // The corneal plane lies 13.5 mm behind the spectacle plane.
  EXPECT_EQ(PlaneNote(ReferencePlane::kCorneal, ReferencePlane::kSpectacle, WordsIn::kEnglish),
            "The numbers here are counted from the front of the eye; the same near point counted "
            "from where glasses sit is 1.4 cm smaller.");
  EXPECT_EQ(PlaneNote(ReferencePlane::kSpectacle, ReferencePlane::kCorneal, WordsIn::kGerman),
            "Die Zahlen hier zählen vom Ort eines Brillenglases; derselbe Nahpunkt, von der "
            "Vorderseite des Auges gezählt, ist 1,4 cm größer.");
  EXPECT_EQ(PlaneNote(ReferencePlane::kCorneal, ReferencePlane::kCorneal, WordsIn::kEnglish), "");
}

}  // namespace
}  // namespace nearpoint
