#include "vision/distance/head_model.h"

#include <gmock/gmock.h>

#include <Eigen/Eigenvalues>
#include <cmath>

namespace nearpoint {
namespace {

TEST(HeadModel, TakesTheProfileWhereItHasValues) {
  FaceScale face;
  face.iris = UncertainLength{Length::Millimeters(12.1), Length::Millimeters(0.1)};
  const HeadModel model = MakeHeadModel(face);
  EXPECT_DOUBLE_EQ(model.mean(kIris), 12.1);
  EXPECT_NEAR(model.covariance(kIris, kIris), 0.01, 1e-12);
}

TEST(HeadModel, TakesThePopulationElsewhere) {
  const HeadModel model = MakeHeadModel({});
  EXPECT_DOUBLE_EQ(model.mean(kIris), 11.71);  // Ruefer et al., Cornea 2005;24:259
  EXPECT_NEAR(std::sqrt(model.covariance(kIris, kIris)), 0.42, 1e-9);
  EXPECT_DOUBLE_EQ(model.mean(kPd), 63.36);  // Dodgson 2004, from memory
}

TEST(HeadModel, PlacesTheCornersByTheirWidthHeightAndDepth) {
  PersonalVector p = MakeHeadModel({}).mean;
  p(kOuterWidth) = 85;
  p(kOuterDepth) = 9;
  p(kOuterHeight) = -1;
  EXPECT_EQ(LandmarkInHeadMm(p, 0), Eigen::Vector3d(-42.5, -1, -9));  // 36: the patient's right
  EXPECT_EQ(LandmarkInHeadMm(p, 3), Eigen::Vector3d(42.5, -1, -9));   // 45: the patient's left
}

TEST(HeadModel, CovarianceIsPositiveDefinite) {
  const HeadModel model = MakeHeadModel({});
  EXPECT_TRUE(model.covariance.isApprox(model.covariance.transpose()));
  EXPECT_GT(
      Eigen::SelfAdjointEigenSolver<PersonalMatrix>(model.covariance).eigenvalues().minCoeff(), 0);
}

}  // namespace
}  // namespace nearpoint
