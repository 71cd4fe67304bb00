#include "vision/eyes/eye_finder.h"

#include <gmock/gmock.h>

#include <opencv2/imgproc.hpp>

#include "tests/support/drawn_eye.h"

namespace nearpoint {
namespace {

using testing::Coded;
using testing::Draw;
using testing::DrawnEye;

cv::Mat TwoEyes(double radius, double apart, double tilt_px = 0) {
  cv::Mat linear(720, 1280, CV_64F, cv::Scalar(0.2));
  for (const double side : {-0.5, 0.5}) {
    DrawnEye eye;
    eye.centre_px = {640 + side * apart, 340 + side * tilt_px};
    eye.semi_major_px = radius;
    Draw(eye, &linear);
  }
  cv::GaussianBlur(linear, linear, cv::Size(), 2.0);
  return Coded(linear, 2);
}

// Iris radii and separations of a 62 mm pupil distance seen from 150 to 60 mm, 1280 pixels over 65
// degrees.
TEST(FindIrisPairs, FindsBothEyesAtNearDistances) {
  struct Case {
    double radius, apart;
  };
  for (const auto& [radius, apart] :
       {Case{39, 390}, Case{59, 555}, Case{75, 660}, Case{100, 830}}) {
    const auto pairs = FindIrisPairs(TwoEyes(radius, apart, 20), {});
    ASSERT_FALSE(pairs.empty()) << radius;
    const IrisPair& best = pairs.front();
    EXPECT_NEAR(best.image_left.centre_px.x(), 640 - apart / 2, 0.35 * radius);
    EXPECT_NEAR(best.image_right.centre_px.x(), 640 + apart / 2, 0.35 * radius);
    EXPECT_NEAR(best.image_left.centre_px.y(), 330, 0.4 * radius);
    EXPECT_NEAR(best.image_right.radius_px, radius, 0.35 * radius);
  }
}

TEST(FindIrisPairs, RefusesPairsThatNoFaceHas) {
  constexpr double kApart = 1000;  // 25 radii: no face
  for (const IrisPair& pair : FindIrisPairs(TwoEyes(40, kApart), {})) {
    const double apart = (pair.image_right.centre_px - pair.image_left.centre_px).norm();
    EXPECT_LT(apart, 0.9 * kApart);
  }
}

TEST(FindIrisPairs, FindsNothingOnAnEmptyWall) {
  EXPECT_TRUE(FindIrisPairs(cv::Mat(720, 1280, CV_8U, cv::Scalar(120)), {}).empty());
}

}  // namespace
}  // namespace nearpoint
