#include "calibration/face_plausible.h"

#include <gmock/gmock.h>

#include <utility>

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

UncertainLength Known(double mm) { return {Length::Millimeters(mm), Length::Millimeters(0.3)}; }

FaceScale Face(double iris, double pd, double outer, double inner) {
  FaceScale face;
  face.iris = Known(iris);
  face.distance_pd = Known(pd);
  face.outer_corners = Known(outer);
  face.inner_corners = Known(inner);
  return face;
}

auto Says(const char* part) { return testing::Field(&FaceDoubt::text, HasSubstr(part)); }

TEST(FacePlausible, OrdinaryFacesRaiseNoDoubt) {
  EXPECT_THAT(FaceDoubts(Face(11.7, 62, 88, 33), {}), IsEmpty());
  EXPECT_THAT(FaceDoubts(Face(11.3, 59, 85, 31), {}), IsEmpty());
  EXPECT_THAT(FaceDoubts(Face(12.1, 68, 95, 37), {}), IsEmpty());
  EXPECT_THAT(FaceDoubts(FaceScale{}, {}), IsEmpty());
}

// Fledelius & Stubgaard 1986 give 55.8 mm at 6, 58.4 at 10 and 62.3 at 16 years (read).
TEST(FacePlausible, ChildrenAreHeldAgainstChildren) {
  for (const auto& [age, pd] :
       {std::pair{6.0, 55.8}, std::pair{10.0, 58.4}, std::pair{16.0, 62.3}}) {
    EXPECT_NEAR(FaceRanges(age)[1].mean_mm, pd, 0.06);
  }
  EXPECT_THAT(FaceDoubts(Face(11.7, 49, 80, 30), 6.0), IsEmpty());
  EXPECT_THAT(FaceDoubts(Face(11.7, 49, 85, 31), {}),
              ElementsAre(Says("pupil distance of 49.0 mm")));
}

TEST(FacePlausible, AnIrisThatNobodyHasIsNamed) {
  EXPECT_THAT(FaceDoubts(Face(13.4, 62, 88, 33), {}),
              ElementsAre(Says("iris diameter of 13.4 mm")));
  EXPECT_THAT(FaceDoubts(Face(9.9, 62, 88, 33), {}), ElementsAre(Says("iris diameter of 9.9 mm")));
}

TEST(FacePlausible, AWrongCardShowsInAllLengthsTogether) {
  const double k = 1.09;  // each length alone still passes
  EXPECT_THAT(FaceDoubts(Face(k * 11.75, k * 63, k * 90, k * 33.5), {}),
              ElementsAre(Says("larger than usual; hold the printed card")));
}

}  // namespace
}  // namespace nearpoint
