#include "calibration/camera_views.h"

#include <gmock/gmock.h>

#include "calibration/face_views.h"
#include "tests/support/card_studio.h"

namespace nearpoint {
namespace {

using testing::IsEmpty;
using testing::SizeIs;

CameraIntrinsics Webcam() {
  CameraIntrinsics camera;
  camera.width = 1280;
  camera.height = 720;
  camera.fx = camera.fy = 1100;
  camera.cx = 639.5;
  camera.cy = 359.5;
  return camera;
}

// A view by its homography alone: what taking or leaving it asks for.
CardView ViewOf(const drawn::CardPose& pose) {
  const CameraIntrinsics camera = Webcam();
  Eigen::Matrix3d k = Eigen::Matrix3d::Identity();
  k(0, 0) = camera.fx;
  k(1, 1) = camera.fy;
  k(0, 2) = camera.cx;
  k(1, 2) = camera.cy;
  Eigen::Matrix3d place;
  place << pose.camera_from_card.col(0), pose.camera_from_card.col(1), pose.middle_in_camera_mm;
  CardView view;
  view.image_from_card = k * place;
  return view;
}

std::vector<CardView> Tilts(int count) {
  std::mt19937_64 random(5);
  std::vector<CardView> views;
  for (const auto& pose : drawn::DrawPoses(Webcam(), count, random)) views.push_back(ViewOf(pose));
  return views;
}

TEST(CameraViewsTest, BeforeACameraAViewCountsWhenTheCardStandsStill) {
  CameraViews views(1280, 720, true);
  const auto all = Tilts(2);
  EXPECT_EQ(views.Offer(FromMilliseconds(0), 0, all[0]), ViewStep::kMoving);
  EXPECT_EQ(views.Offer(FromMilliseconds(33), 1, all[1]), ViewStep::kMoving);
  EXPECT_EQ(views.Offer(FromMilliseconds(66), 2, all[1]), ViewStep::kTaken);
  EXPECT_EQ(views.Offer(FromMilliseconds(99), 3, all[1]), ViewStep::kSame);
  EXPECT_EQ(views.Offer(FromMilliseconds(132), 4, std::nullopt), ViewStep::kNoCard);
  // Out of sight and back again it must stand still anew.
  EXPECT_EQ(views.Offer(FromMilliseconds(165), 5, all[0]), ViewStep::kMoving);
  EXPECT_EQ(views.Offer(FromMilliseconds(198), 6, all[0]), ViewStep::kTaken);
  EXPECT_THAT(views.frames(), testing::ElementsAre(2, 6));
}

TEST(CameraViewsTest, SinglePicturesCountAtOnce) {
  CameraViews views(1280, 720, false);
  int t = 0;
  for (const CardView& view : Tilts(8)) {
    EXPECT_NE(views.Offer(FromMilliseconds(10000.0 * t), t, view), ViewStep::kMoving);
    ++t;
  }
  EXPECT_GE(views.views().size(), 6u);
  EXPECT_FALSE(views.Enough());  // a recording is used to its end
}

TEST(CameraViewsTest, BeforeACameraItIsEnoughWhenTheGuidanceIsComplete) {
  CameraViews views(1280, 720, true);
  int t = 0;
  for (const CardView& view : Tilts(60)) {
    for (int i = 0; i < 2 && !views.Enough(); ++i, ++t) {
      static_cast<void>(views.Offer(FromMilliseconds(33.0 * t), t, view));
    }
  }
  EXPECT_TRUE(views.Enough());
  EXPECT_GE(views.views().size(), 12u);
  EXPECT_LE(views.views().size(), 30u);
}

TEST(FaceViewsTest, WantsPicturesAndATurn) {
  FaceViews views;
  EXPECT_EQ(views.TurnedDeg(), 0);
  for (int i = 0; i < 60; ++i) views.Add(FaceCardView(), -3);
  EXPECT_EQ(views.TurnedDeg(), 0);
  EXPECT_FALSE(views.Enough());
  views.Add(FaceCardView(), 17);
  EXPECT_EQ(views.TurnedDeg(), 20);
  EXPECT_TRUE(views.Enough());
  for (int i = 0; i < 100; ++i) views.Add(FaceCardView(), 0);
  EXPECT_THAT(views.Chosen(), SizeIs(80));
  EXPECT_THAT(FaceViews().Chosen(), IsEmpty());
}

}  // namespace
}  // namespace nearpoint
