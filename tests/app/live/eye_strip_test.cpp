#include "app/live/eye_strip.h"

#include <gtest/gtest.h>

#include <cmath>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

namespace nearpoint {
namespace {

constexpr double kIris = 60;
constexpr double kApart = 300;

// A white picture, black where the strip may be taken from, grey discs for the irises.
struct Scene {
  cv::Mat picture;
  DistanceSample sample;
};

Scene MakeScene(double roll_deg, cv::Point2d middle = {640, 360}) {
  Scene scene;
  scene.picture = cv::Mat(720, 1280, CV_8UC3, cv::Scalar::all(255));
  const double roll = roll_deg * std::acos(-1.0) / 180;
  const cv::Point2d along(std::cos(roll), std::sin(roll));
  // Two irises high: the strip itself is 1.6, and each end of the picture softens.
  const cv::RotatedRect allowed(
      middle, cv::Size2f(static_cast<float>(kApart + 3 * kIris), static_cast<float>(2 * kIris)),
      static_cast<float>(roll_deg));
  cv::Point2f corners[4];
  allowed.points(corners);
  std::vector<cv::Point> polygon(std::begin(corners), std::end(corners));
  cv::fillConvexPoly(scene.picture, polygon, cv::Scalar::all(0));
  const auto eye = [&](double side) {
    const cv::Point2d at = middle + along * (side * kApart / 2);
    cv::circle(scene.picture, at, static_cast<int>(kIris / 2), cv::Scalar::all(120), cv::FILLED);
    EyeSample sample;
    sample.iris_px = {at.x, at.y};
    sample.iris_major_px = kIris;
    return sample;
  };
  scene.sample.right_eye = eye(-1);
  scene.sample.left_eye = eye(1);
  return scene;
}

cv::Mat Decoded(const std::string& jpeg) {
  return cv::imdecode(std::vector<std::uint8_t>(jpeg.begin(), jpeg.end()), cv::IMREAD_UNCHANGED);
}

// Whatever the roll: the irises where they belong, and nothing of what lies around the eyes.
TEST(EyeStrip, HoldsBothEyesLevelAndNothingElse) {
  for (const double roll : {-35.0, 0.0, 12.0, 90.0}) {
    const Scene scene = MakeScene(roll);
    const auto jpeg = CutEyeStrip(scene.picture, scene.sample);
    ASSERT_TRUE(jpeg) << roll;
    const cv::Mat strip = Decoded(*jpeg);
    EXPECT_EQ(strip.channels(), 1);
    EXPECT_EQ(strip.cols, 320);
    const double scale = 320 / (kApart + 2.6 * kIris);
    EXPECT_NEAR(strip.rows, 1.6 * kIris * scale, 1.5);
    double brightest = 0;
    cv::minMaxLoc(strip, nullptr, &brightest);
    EXPECT_LT(brightest, 200) << roll;  // the white around would be 255
    for (const double side : {-0.5, 0.5}) {
      const cv::Point at(cvRound(strip.cols / 2.0 + side * kApart * scale), strip.rows / 2);
      EXPECT_NEAR(strip.at<uchar>(at), 120, 25) << roll;
    }
    EXPECT_NEAR(strip.at<uchar>(strip.rows / 2, strip.cols / 2), 0, 25) << roll;
    EXPECT_LT(jpeg->size(), 20000u);
  }
}

// Near the lens the strip reaches over the edge of the picture; what is not there is grey.
TEST(EyeStrip, EndsWhereThePictureEnds) {
  const Scene scene = MakeScene(0, {120, 40});
  const auto jpeg = CutEyeStrip(scene.picture, scene.sample);
  ASSERT_TRUE(jpeg);
  EXPECT_NEAR(Decoded(*jpeg).at<uchar>(2, 2), 128, 12);
}

TEST(EyeStrip, NeedsAPairOfEyes) {
  const Scene scene = MakeScene(0);
  DistanceSample one = scene.sample;
  one.left_eye.reset();
  EXPECT_FALSE(CutEyeStrip(scene.picture, one));
  for (const double wrong : {20.0, 140.0, 0.0}) {  // an iris that is not that of this pair
    DistanceSample odd = scene.sample;
    odd.left_eye->iris_major_px = odd.right_eye->iris_major_px = wrong;
    EXPECT_FALSE(CutEyeStrip(scene.picture, odd)) << wrong;
  }
  EXPECT_FALSE(CutEyeStrip(cv::Mat(), scene.sample));
}

}  // namespace
}  // namespace nearpoint
