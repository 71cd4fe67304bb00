#include "calibration/population.h"

#include <gmock/gmock.h>

#include <cmath>

namespace nearpoint {
namespace {

TEST(PopulationTest, HasThePublishedValues) {
  const FaceScale face = PopulationFace();
  // Ruefer et al., Cornea 2005;24:259-261.
  EXPECT_EQ(face.iris->value.mm(), 11.71);
  EXPECT_EQ(face.iris->sd.mm(), 0.42);
  // Dodgson, Proc SPIE 2004;5291:36-46.
  EXPECT_EQ(face.distance_pd->value.mm(), 63.36);
  EXPECT_EQ(face.distance_pd->sd.mm(), 3.83);
  // Mixture of men 93.00 (5.56) and women 88.39 (3.74), BioMed Res Int 2013:821428: mean and spread
  // computed here.
  const double mean = (93.00 + 88.39) / 2;
  const double half_gap = (93.00 - 88.39) / 2;
  const double sd = std::sqrt((5.56 * 5.56 + 3.74 * 3.74) / 2 + half_gap * half_gap);
  EXPECT_NEAR(face.outer_corners->value.mm(), mean, 0.05);
  EXPECT_NEAR(face.outer_corners->sd.mm(), sd, 0.05);
  // Means of six groups, PMC9029890, and a spread of 2.6 within a group: computed here.
  double sum = 0;
  double squares = 0;
  for (const double group : {31.4, 31.2, 32.3, 32.8, 36.4, 38.5}) {
    sum += group;
    squares += group * group;
  }
  const double between = (squares - sum * sum / 6) / 5;
  EXPECT_NEAR(face.inner_corners->value.mm(), sum / 6, 0.05);
  EXPECT_NEAR(face.inner_corners->sd.mm(), std::sqrt(between + 2.6 * 2.6), 0.05);
}

TEST(PopulationTest, FillsOnlyWhatIsAbsentAndSaysWhat) {
  FaceScale face;
  face.iris = UncertainLength{Length::Millimeters(12), Length::Millimeters(0.1)};
  const FaceScale filled = WithPopulation(face);
  EXPECT_EQ(filled.iris->value.mm(), 12);
  EXPECT_EQ(filled.iris->sd.mm(), 0.1);
  EXPECT_TRUE(filled.outer_corners && filled.inner_corners && filled.distance_pd &&
              filled.outer_corner_depth && filled.inner_corner_depth);
  EXPECT_THAT(
      FilledByPopulation(face),
      testing::UnorderedElementsAre("outer_corners_mm", "inner_corners_mm", "distance_pd_mm",
                                    "outer_corner_depth_mm", "inner_corner_depth_mm"));
  EXPECT_THAT(FilledByPopulation(filled), testing::IsEmpty());
}

TEST(PopulationTest, LeavesNoDeviationAtZero) {
  FaceScale face;
  face.iris = UncertainLength{Length::Millimeters(12), Length()};
  EXPECT_EQ(WithPopulation(face).iris->sd.mm(), 0.01);
}

}  // namespace
}  // namespace nearpoint
