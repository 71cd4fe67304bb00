#include "vision/pipeline/grain.h"

#include <gtest/gtest.h>

#include <opencv2/imgproc.hpp>

namespace nearpoint {
namespace {

// A slope with a bright edge in it, and noise of this deviation.
cv::Mat Picture(double mean, double noise) {
  cv::Mat light(120, 160, CV_32F);
  for (int y = 0; y < light.rows; ++y) {
    for (int x = 0; x < light.cols; ++x) {
      light.at<float>(y, x) = static_cast<float>(mean * (0.8 + 0.4 * x / light.cols));
    }
  }
  cv::rectangle(light, {60, 40, 12, 12}, cv::Scalar(250), cv::FILLED);
  cv::RNG random(7);
  cv::Mat added(light.size(), CV_32F);
  random.fill(added, cv::RNG::NORMAL, 0, noise);
  light += added;
  cv::Mat out;
  light.convertTo(out, CV_8U);
  return out;
}

TEST(Grain, IsTheNoiseOverTheLight) {
  for (const double noise : {2.0, 4.0, 8.0}) {
    const cv::Mat picture = Picture(100, noise);
    const double mean = cv::mean(picture)[0];
    EXPECT_NEAR(GrainOf(picture, {{}, picture.size()}), noise / mean, 0.05 * noise / mean + 0.001);
  }
}

TEST(Grain, EdgesAndSlopesAreNoNoise) {
  const cv::Mat picture = Picture(100, 0);
  EXPECT_LT(GrainOf(picture, {{}, picture.size()}), 0.004);
  EXPECT_FALSE(IsTooDark(picture, {{}, picture.size()}));
}

TEST(Grain, DarkIsBlackOrMostlyNoise) {
  const cv::Rect all(0, 0, 160, 120);
  EXPECT_FALSE(IsTooDark(Picture(110, 1.5), all));
  EXPECT_TRUE(IsTooDark(Picture(100, 5), all));
  EXPECT_TRUE(IsTooDark(Picture(5, 0.3), all));
}

TEST(Grain, OfAlmostNothingNothingIsSaid) {
  EXPECT_EQ(GrainOf(Picture(100, 9), {0, 0, 4, 4}), 0);
  EXPECT_FALSE(IsTooDark(Picture(100, 9), {}));
}

}  // namespace
}  // namespace nearpoint
