#include "vision/card/find_pattern.h"

#include <gmock/gmock.h>

#include <cmath>
#include <cstdio>
#include <numbers>
#include <opencv2/imgproc.hpp>

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
    std::printf("z %.0f px/mm %.2f rms %.4f mean %.4f %.4f largest %.3f normed %.2f bright %.2f\n",
                pose.middle_in_camera_mm.z(), view->px_per_mm, e.rms, e.mean_x, e.mean_y, e.largest,
                e.normed, view->bright);
    EXPECT_LT(e.rms, 0.06);
    EXPECT_LT(e.largest, 0.25);
    EXPECT_LT(std::abs(e.mean_x), 0.015);
    EXPECT_LT(std::abs(e.mean_y), 0.015);
  }
}

}  // namespace
}  // namespace nearpoint
