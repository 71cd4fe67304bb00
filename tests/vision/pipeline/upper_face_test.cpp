#include "vision/pipeline/upper_face.h"

#include <gtest/gtest.h>

#include <cmath>
#include <opencv2/imgproc.hpp>

#include "vision/core/units.h"

namespace nearpoint {
namespace {

constexpr double kDepthMm = 600;
const CameraIntrinsics& Camera() {
  static const CameraIntrinsics camera = [] {
    CameraIntrinsics c;
    c.width = 640;
    c.height = 480;
    c.fx = c.fy = 1000;
    c.cx = 319.5;
    c.cy = 239.5;
    return c;
  }();
  return camera;
}

// Skin: grey with faint blotches a few pixels wide.
cv::Mat Skin() {
  cv::Mat fine(480, 640, CV_32F);
  cv::RNG random(7);
  random.fill(fine, cv::RNG::NORMAL, 0, 1);
  cv::GaussianBlur(fine, fine, {}, 3);
  cv::Scalar mean;
  cv::Scalar sd;
  cv::meanStdDev(fine, mean, sd);
  return 60 + fine * (4 / sd[0]);
}

// As a camera takes it, with the skin enlarged about the lens axis.
cv::Mat Taken(const cv::Mat& skin, double enlargement, double noise, cv::RNG& random) {
  const double s = enlargement;
  const cv::Matx23d map(s, 0, (1 - s) * Camera().cx, 0, s, (1 - s) * Camera().cy);
  cv::Mat light;
  cv::warpAffine(skin, light, map, skin.size(), cv::INTER_CUBIC, cv::BORDER_REFLECT);
  cv::Mat grain(light.size(), CV_32F);
  random.fill(grain, cv::RNG::NORMAL, 0, noise);
  cv::Mat out;
  cv::Mat(light + grain).convertTo(out, CV_8U);
  return out;
}

std::optional<UpperFace> Key(const cv::Mat& picture) {
  return UpperFace::FromKey(picture, Camera(), {0, 0, kDepthMm}, {369.5, 290}, {269.5, 290});
}

// Skin lies 9 mm before the corneal plane, so that much less of the depth shrinks.
double DepthOf(double enlargement) { return ((kDepthMm - 9) / enlargement + 9) / kDepthMm; }

TEST(UpperFaceTest, SaysHowMuchNearerAFaceCame) {
  cv::RNG random(1);
  const cv::Mat skin = Skin();
  const auto key = Key(Taken(skin, 1, 0.3, random));
  ASSERT_TRUE(key);
  for (const double enlargement : {0.97, 1.0, 1.02, 1.05}) {
    const auto motion = key->Find(Taken(skin, enlargement, 0.3, random), std::nullopt, 0.01);
    ASSERT_TRUE(motion) << enlargement;
    EXPECT_NEAR(motion->mid_in_key_depths.z(), DepthOf(enlargement), 1.5e-3) << enlargement;
    EXPECT_LT(motion->turn.norm(), 0.01) << enlargement;
  }
}

// How the depth trembles about the truth over pictures that follow, in the key's depth. What is
// wrong alike in all of them is not in it: how far the key is has to be learned in any case.
double Scatter(UpperFace& key, const cv::Mat& skin, double noise, bool deepen, cv::RNG& random) {
  constexpr int kLearn = 16;
  constexpr int kJudge = 20;
  double sum = 0;
  double squares = 0;
  std::optional<UpperFaceMotion> before;
  for (int i = 0; i < kLearn + kJudge; ++i) {
    const double enlargement = 1 + 0.01 * std::sin(0.3 * i);
    const cv::Mat picture = Taken(skin, enlargement, noise, random);
    const auto motion = key.Find(picture, before, 0.005);
    if (!motion) return INFINITY;
    before = motion;
    if (deepen) key.Deepen(picture, *motion);
    if (i < kLearn) continue;
    const double off = motion->mid_in_key_depths.z() - DepthOf(enlargement);
    sum += off;
    squares += off * off;
  }
  return std::sqrt(squares / kJudge - std::pow(sum / kJudge, 2));
}

TEST(UpperFaceTest, AKeyOfSeveralPicturesTremblesLessInTheDark) {
  constexpr double kDark = 7;  // more noise than skin
  const cv::Mat skin = Skin();
  double single = 0;
  double several = 0;
  for (const std::uint64_t seed : {1, 2, 3}) {
    cv::RNG random(seed);
    const cv::Mat first = Taken(skin, 1, kDark, random);
    auto key = Key(first);
    auto deepened = Key(first);
    ASSERT_TRUE(key && deepened);
    single += std::pow(Scatter(*key, skin, kDark, false, random), 2);
    several += std::pow(Scatter(*deepened, skin, kDark, true, random), 2);
  }
  EXPECT_LT(std::sqrt(several), 0.85 * std::sqrt(single)) << std::sqrt(single / 3);
}

TEST(UpperFaceTest, InGoodLightAKeyOfSeveralPicturesIsAsTrue) {
  const cv::Mat skin = Skin();
  cv::RNG random(3);
  auto key = Key(Taken(skin, 1, 0.3, random));
  ASSERT_TRUE(key);
  EXPECT_LT(Scatter(*key, skin, 0.3, true, random), 1e-3);
}

TEST(UpperFaceTest, PlainSkinAndTheEdgeOfThePictureGiveNothing) {
  EXPECT_FALSE(Key(cv::Mat(480, 640, CV_8U, cv::Scalar(90))));
  cv::RNG random(4);
  const cv::Mat picture = Taken(Skin(), 1, 0.3, random);
  EXPECT_FALSE(UpperFace::FromKey(picture, Camera(), {0, 0, kDepthMm}, {369.5, 5}, {269.5, 5}));
  const auto key = Key(picture);
  ASSERT_TRUE(key);
  EXPECT_FALSE(key->Find(cv::Mat(480, 640, CV_8U, cv::Scalar(90)), std::nullopt, 0.01));
}

}  // namespace
}  // namespace nearpoint
