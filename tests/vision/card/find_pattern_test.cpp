#include "vision/card/find_pattern.h"

#include <gmock/gmock.h>

#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "calibration/adjust_camera.h"
#include "tests/support/card_studio.h"
#include "vision/card/card_pattern.h"

namespace nearpoint {
namespace {

using drawn::CardPose;
using drawn::CardScene;
using drawn::DrawnCard;

CameraIntrinsics Webcam() {
  CameraIntrinsics camera;
  camera.width = 1280;
  camera.height = 720;
  camera.fx = camera.fy = 1000;
  camera.cx = 645;
  camera.cy = 352;
  camera.distortion = {-0.08, 0.03, 0.0004, -0.0003, 0};
  return camera;
}

CardPose Tilted(double about_x_deg, double about_y_deg, double z_mm, double x_mm = 0,
                double y_mm = 0) {
  CardPose pose;
  const double rad = std::numbers::pi / 180;
  pose.camera_from_card = (Eigen::AngleAxisd(about_x_deg * rad, Eigen::Vector3d::UnitX()) *
                           Eigen::AngleAxisd(about_y_deg * rad, Eigen::Vector3d::UnitY()))
                              .toRotationMatrix();
  pose.middle_in_camera_mm = {x_mm, y_mm, z_mm};
  return pose;
}

struct Errors {
  double rms = 0, mean_x = 0, mean_y = 0, largest = 0, normed = 0;
  std::size_t count = 0;
};

Errors ErrorsOf(const PatternView& view, const CameraIntrinsics& camera, const CardPose& pose) {
  Errors e;
  for (const PatternCorner& c : view.corners) {
    const Eigen::Vector2d d = c.image_px - TruePixel(camera, pose, c.card_mm);
    e.rms += d.squaredNorm() / 2;
    e.normed += d.squaredNorm() / 2 / (c.sd_px * c.sd_px);
    e.mean_x += d.x();
    e.mean_y += d.y();
    e.largest = std::max(e.largest, d.norm());
    ++e.count;
  }
  const auto n = static_cast<double>(e.count);
  e.rms = std::sqrt(e.rms / n);
  e.normed = std::sqrt(e.normed / n);
  e.mean_x /= n;
  e.mean_y /= n;
  return e;
}

TEST(FindPatternTest, PutsEveryCornerWhereItIs) {
  const DrawnCard card = drawn::PatternCard();
  const CameraIntrinsics camera = Webcam();
  for (const CardPose& pose : {Tilted(0, 0, 220), Tilted(30, 10, 250, 40, 20),
                               Tilted(-20, 35, 300, -60, -30), Tilted(5, -8, 450, 80, 40)}) {
    const cv::Mat picture = TakePicture(camera, {{&card, pose}}, CardScene{});
    const auto view = FindPattern(picture);
    ASSERT_TRUE(view.has_value()) << ToText(view.error());
    EXPECT_EQ(view->markers.size(), 15u);
    EXPECT_EQ(view->corners.size(), 60u);
    const Errors e = ErrorsOf(*view, camera, pose);
    EXPECT_LT(e.rms, 0.06);
    EXPECT_LT(e.largest, 0.25);
    EXPECT_LT(std::abs(e.mean_x), 0.015);
    EXPECT_LT(std::abs(e.mean_y), 0.015);
  }
}

TEST(FindPatternTest, TheStatedDeviationOfACornerIsHonest) {
  const DrawnCard card = drawn::PatternCard();
  const CameraIntrinsics camera = Webcam();
  for (const double noise : {1.0, 4.0}) {
    CardScene scene;
    scene.noise_codes = noise;
    const CardPose pose = Tilted(20, -15, 260);
    const auto view = FindPattern(TakePicture(camera, {{&card, pose}}, scene));
    ASSERT_TRUE(view.has_value());
    const Errors e = ErrorsOf(*view, camera, pose);
    EXPECT_GT(e.normed, 0.5) << noise;
    EXPECT_LT(e.normed, 1.6) << noise;
  }
}

TEST(FindPatternTest, ReadsItFromFarAndInAStrongTilt) {
  const DrawnCard card = drawn::PatternCard();
  const CameraIntrinsics camera = Webcam();
  // 600 mm: 1.7 pixels a millimetre, where a person holds the card to the face.
  for (const CardPose& pose : {Tilted(0, 0, 600), Tilted(50, 0, 260), Tilted(0, 55, 300)}) {
    const auto view = FindPattern(TakePicture(camera, {{&card, pose}}, CardScene{}));
    ASSERT_TRUE(view.has_value()) << ToText(view.error());
    EXPECT_EQ(view->markers.size(), 15u);
    EXPECT_LT(ErrorsOf(*view, camera, pose).rms, 0.12);
  }
}

TEST(FindPatternTest, WhatIsCoveredTakesNothingElseAlong) {
  const DrawnCard card = drawn::PatternCard();
  const CameraIntrinsics camera = Webcam();
  const CardPose pose = Tilted(10, 20, 250);
  CardScene scene;
  scene.cover = [&](cv::Mat& light) {
    // A hand over the right third of the card.
    const Eigen::Vector2d a = TruePixel(camera, pose, {14, -40});
    const Eigen::Vector2d b = TruePixel(camera, pose, {60, 40});
    cv::rectangle(light, cv::Point2d(a.x(), a.y()), cv::Point2d(b.x(), b.y()), cv::Scalar(0.25),
                  cv::FILLED);
  };
  const auto view = FindPattern(TakePicture(camera, {{&card, pose}}, scene));
  ASSERT_TRUE(view.has_value()) << ToText(view.error());
  EXPECT_EQ(view->markers.size(), 9u);  // three of five columns
  EXPECT_LT(ErrorsOf(*view, camera, pose).rms, 0.06);
  // The place of the whole card follows from what is left.
  const auto placed = PlaceCard(view->edges, camera);
  ASSERT_TRUE(placed.has_value());
  EXPECT_LT((placed->card_in_camera_mm - pose.middle_in_camera_mm).norm(), 1.0);
}

TEST(FindPatternTest, LooksOnlyInItsRegion) {
  const DrawnCard card = drawn::PatternCard();
  const CameraIntrinsics camera = Webcam();
  const CardPose pose = Tilted(0, 15, 400, 90, 30);
  const cv::Mat picture = TakePicture(camera, {{&card, pose}}, CardScene{});
  PatternOptions options;
  options.region = cv::Rect(700, 250, 500, 400);
  const auto view = FindPattern(picture, options);
  ASSERT_TRUE(view.has_value()) << ToText(view.error());
  EXPECT_LT(ErrorsOf(*view, camera, pose).rms, 0.06);
  options.region = cv::Rect(0, 0, 500, 500);
  EXPECT_EQ(FindPattern(picture, options).error(), NoPattern::kNothing);
  options.region = cv::Rect(5000, 5000, 10, 10);
  EXPECT_EQ(FindPattern(picture, options).error(), NoPattern::kNothing);
}

TEST(FindPatternTest, CoarseCornersAreQuickAndSaidToBeCoarse) {
  const DrawnCard card = drawn::PatternCard();
  const CameraIntrinsics camera = Webcam();
  const CardPose pose = Tilted(0, 15, 300);
  PatternOptions options;
  options.sub_pixel = false;
  const auto view = FindPattern(TakePicture(camera, {{&card, pose}}, CardScene{}), options);
  ASSERT_TRUE(view.has_value());
  EXPECT_TRUE(view->edges.edge_points.empty());
  EXPECT_LT(ErrorsOf(*view, camera, pose).rms, 1.0);
  for (const PatternCorner& c : view->corners) EXPECT_EQ(c.sd_px, 0.5);
}

TEST(FindPatternTest, FindsNothingWhereNothingIs) {
  CardScene scene;
  scene.clutter = 0.1;
  EXPECT_EQ(FindPattern(TakePicture(Webcam(), {}, scene)).error(), NoPattern::kNothing);
  EXPECT_EQ(FindPattern(cv::Mat()).error(), NoPattern::kNothing);
  EXPECT_EQ(FindPattern(cv::Mat(8, 8, CV_8UC3, cv::Scalar::all(9))).error(), NoPattern::kNothing);
  const DrawnCard plain = drawn::BankCard();
  EXPECT_EQ(FindPattern(TakePicture(Webcam(), {{&plain, Tilted(0, 0, 250)}}, scene)).error(),
            NoPattern::kNothing);
}

}  // namespace
}  // namespace nearpoint
