#include "vision/card/find_plain_card.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
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
  camera.distortion = {-0.05, 0.02, 0, 0, 0};
  return camera;
}

CardPose Tilted(double about_x_deg, double about_y_deg, double z_mm, double about_z_deg = 0) {
  CardPose pose;
  const double rad = std::numbers::pi / 180;
  pose.camera_from_card = (Eigen::AngleAxisd(about_x_deg * rad, Eigen::Vector3d::UnitX()) *
                           Eigen::AngleAxisd(about_y_deg * rad, Eigen::Vector3d::UnitY()) *
                           Eigen::AngleAxisd(about_z_deg * rad, Eigen::Vector3d::UnitZ()))
                              .toRotationMatrix();
  pose.middle_in_camera_mm = {10, -5, z_mm};
  return pose;
}

// A thin card, whose edges are where its face ends.
DrawnCard Thin(double brightness, bool printed = true) {
  DrawnCard card = drawn::BankCard(brightness, printed);
  card.thickness_mm = 0;
  return card;
}

// Distance of a pixel from the true image of an edge.
double Off(const Eigen::Vector2d& px, const CardEdge& edge, const CardPose& pose) {
  double least = 1e9;
  for (int i = -20; i <= 420; ++i) {
    const Eigen::Vector2d mm = edge.start_mm + (edge.end_mm - edge.start_mm) * (i / 400.0);
    const Eigen::Vector2d next = edge.start_mm + (edge.end_mm - edge.start_mm) * ((i + 1) / 400.0);
    const Eigen::Vector2d a = TruePixel(Webcam(), pose, mm), b = TruePixel(Webcam(), pose, next);
    const double t = std::clamp((px - a).dot(b - a) / (b - a).squaredNorm(), 0.0, 1.0);
    least = std::min(least, (px - a - t * (b - a)).norm());
  }
  return least;
}

// The card turned by half a turn is the same card.
CardPose HalfTurn(CardPose pose) {
  pose.camera_from_card =
      pose.camera_from_card * Eigen::AngleAxisd(std::numbers::pi, Eigen::Vector3d::UnitZ());
  return pose;
}

TEST(FindPlainCardTest, PutsTheEdgesWhereTheyAre) {
  for (const double brightness : {0.75, 0.02}) {
    const DrawnCard card = Thin(brightness);
    for (const CardPose& pose : {Tilted(0, 0, 250), Tilted(30, 10, 230, 8),
                                 Tilted(-10, -35, 260, -80), Tilted(15, 20, 500)}) {
      CardScene scene;
      // Against a dark card a background that changes within the blur would itself move the edge.
      if (brightness < 0.1) scene.clutter = 0.02;
      const auto view = FindPlainCard(TakePicture(Webcam(), {{&card, pose}}, scene));
      ASSERT_TRUE(view.has_value()) << brightness << ToText(view.error());
      EXPECT_EQ(view->edges.edges.size(), 4u);
      EXPECT_GT(view->edges.edge_points.size(), 50u);
      double squares[2] = {0, 0};
      for (const EdgePoint& p : view->edges.edge_points) {
        const CardEdge& edge = view->edges.edges[static_cast<std::size_t>(p.edge)];
        squares[0] += std::pow(Off(p.image_px, edge, pose), 2);
        squares[1] += std::pow(Off(p.image_px, edge, HalfTurn(pose)), 2);
      }
      const double n = static_cast<double>(view->edges.edge_points.size());
      EXPECT_LT(std::sqrt(std::min(squares[0], squares[1]) / n), 0.12)
          << brightness << " z " << pose.middle_in_camera_mm.z();
    }
  }
}

TEST(FindPlainCardTest, ItsRoundedCornersAreNotMissed) {
  const DrawnCard card = Thin(0.75, false);
  const CardPose pose = Tilted(0, 0, 250);
  const auto view = FindPlainCard(TakePicture(Webcam(), {{&card, pose}}, CardScene{}));
  ASSERT_TRUE(view.has_value()) << ToText(view.error());
  // Where the edges would meet: beyond the rounding, which cuts the corner by 1.3 mm.
  const auto corners = CardCorners();
  for (const Eigen::Vector2d& corner : view->corners_px) {
    double least = 1e9;
    for (const auto& mm : corners) {
      least = std::min(least, (corner - TruePixel(Webcam(), pose, mm)).norm());
    }
    // The lens bends the long edges; straight lines through them meet a little off.
    EXPECT_LT(least, 1.0);
  }
}

TEST(FindPlainCardTest, SaysWhyThereIsNone) {
  CardScene scene;
  scene.clutter = 0.1;
  EXPECT_EQ(FindPlainCard(TakePicture(Webcam(), {}, scene)).error(), NoPlainCard::kNothing);
  // Far away it is found and too small to measure by.
  const DrawnCard card = Thin(0.75, false);
  const auto far_away =
      FindPlainCard(TakePicture(Webcam(), {{&card, Tilted(0, 0, 950)}}, CardScene{}));
  ASSERT_FALSE(far_away.has_value());
  EXPECT_EQ(far_away.error(), NoPlainCard::kTooSmall) << ToText(far_away.error());
  // A square is no card.
  const DrawnCard square = drawn::BankCard(0.75, false, 60, 60);
  EXPECT_EQ(
      FindPlainCard(TakePicture(Webcam(), {{&square, Tilted(0, 0, 250)}}, CardScene{})).error(),
      NoPlainCard::kNothing);
}

}  // namespace
}  // namespace nearpoint
