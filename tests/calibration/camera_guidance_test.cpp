#include "calibration/camera_guidance.h"

#include <gmock/gmock.h>

#include <Eigen/Geometry>
#include <numbers>

namespace nearpoint {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

constexpr int kWidth = 1280, kHeight = 720;

// A card turned about the picture's horizontal and vertical axes, seen through a lens of 0.9
// widths.
CardView Turned(double about_x_deg, double about_y_deg, double x_mm = 0, double y_mm = 0,
                double z_mm = 300) {
  const double rad = std::numbers::pi / 180;
  const Eigen::Matrix3d turn = (Eigen::AngleAxisd(about_x_deg * rad, Eigen::Vector3d::UnitX()) *
                                Eigen::AngleAxisd(about_y_deg * rad, Eigen::Vector3d::UnitY()))
                                   .toRotationMatrix();
  Eigen::Matrix3d lens = Eigen::Matrix3d::Identity();
  lens(0, 0) = lens(1, 1) = 0.9 * kWidth;
  lens(0, 2) = (kWidth - 1) / 2.0;
  lens(1, 2) = (kHeight - 1) / 2.0;
  Eigen::Matrix3d plane;
  plane << turn.col(0), turn.col(1), Eigen::Vector3d(x_mm, y_mm, z_mm);
  CardView view;
  view.image_from_card = lens * plane;
  return view;
}

ViewSummary Of(const CardView& view) { return SummariseView(view, kWidth, kHeight); }

TEST(CameraGuidanceTest, TellsTheTilts) {
  EXPECT_EQ(Of(Turned(0, 0)).tilt, CardTilt::kSquare);
  EXPECT_EQ(Of(Turned(10, 5)).tilt, CardTilt::kSquare);
  // y runs down: a positive turn about x takes the lower edge away from the lens.
  EXPECT_EQ(Of(Turned(35, 0)).tilt, CardTilt::kUpperNear);
  EXPECT_EQ(Of(Turned(-35, 0)).tilt, CardTilt::kLowerNear);
  // A positive turn about y brings the picture's right side nearer: the person's left hand.
  EXPECT_EQ(Of(Turned(0, 35)).tilt, CardTilt::kLeftNear);
  EXPECT_EQ(Of(Turned(0, -35)).tilt, CardTilt::kRightNear);
  EXPECT_NEAR(Of(Turned(0, 35)).tilt_deg, 35, 0.1);
  EXPECT_NEAR(Of(Turned(-25, 0)).tilt_deg, 25, 0.1);
}

TEST(CameraGuidanceTest, TheNearSideIsTheLongerOne) {
  // The same by the picture alone: the edge that is nearer is drawn longer.
  const auto longer = [](const ViewSummary& v, std::size_t a, std::size_t b) {
    const auto length = [&](std::size_t i) {
      return (v.corners[(i + 1) % 4] - v.corners[i]).norm();
    };
    return length(a) > length(b);
  };
  EXPECT_TRUE(longer(Of(Turned(35, 0)), 0, 2));   // upper
  EXPECT_TRUE(longer(Of(Turned(-35, 0)), 2, 0));  // lower
  EXPECT_TRUE(longer(Of(Turned(0, 35)), 1, 3));   // right in the picture
}

TEST(CameraGuidanceTest, LeadsThroughAllTiltsAndPartsOfThePicture) {
  std::vector<ViewSummary> taken;
  CameraGuidance guide = GuideCamera(taken);
  EXPECT_FALSE(guide.complete);
  EXPECT_EQ(guide.tilts.size(), 5u);
  EXPECT_THAT(guide.next, HasSubstr("upper edge"));
  for (int i = 0; i < 12 && !guide.tilts.empty(); ++i) {
    const CardTilt tilt = guide.tilts.front();
    const double x = tilt == CardTilt::kUpperNear ? 35 : tilt == CardTilt::kLowerNear ? -35 : 0;
    const double y = tilt == CardTilt::kLeftNear ? 35 : tilt == CardTilt::kRightNear ? -35 : 0;
    taken.push_back(Of(Turned(x, y, 3.0 * i)));
    guide = GuideCamera(taken);
  }
  // Two of each of four tilts and one square.
  EXPECT_EQ(taken.size(), 9u);
  EXPECT_FALSE(guide.complete);
  EXPECT_THAT(guide.next, HasSubstr("Move the card to the upper right"));
  for (const double x : {-100.0, 100.0}) {
    for (const double y : {-50.0, 50.0}) taken.push_back(Of(Turned(0, 0, x, y)));
  }
  guide = GuideCamera(taken);
  EXPECT_TRUE(guide.complete) << guide.next;
  EXPECT_THAT(guide.missing, Not(Contains(true)));
}

TEST(CameraGuidanceTest, NamesThePartThatIsMissingAsThePersonSeesIt) {
  std::vector<ViewSummary> taken;
  for (int i = 0; i < 3; ++i) {
    for (const auto& [x, y] : {std::pair{35, 0}, {-35, 0}, {0, 35}, {0, -35}, {0, 0}}) {
      taken.push_back(Of(Turned(x, y)));
    }
  }
  taken.push_back(Of(Turned(0, 0, -100, -50)));
  taken.push_back(Of(Turned(0, 0, -100, 50)));
  taken.push_back(Of(Turned(0, 0, 100, 50)));
  // What is missing is the picture's upper right: the person's upper left in a mirror.
  EXPECT_THAT(GuideCamera(taken).next, HasSubstr("upper left"));
}

TEST(CameraGuidanceTest, TakesOnlyWhatHelps) {
  const std::vector<ViewSummary> taken{Of(Turned(30, 0))};
  EXPECT_EQ(JudgeView(taken, Of(Turned(31, 1))), ViewUse::kSame);
  EXPECT_EQ(JudgeView(taken, Of(Turned(-30, 0))), ViewUse::kTake);
  EXPECT_EQ(JudgeView(taken, Of(Turned(30, 0, 60))), ViewUse::kTake);
  EXPECT_EQ(JudgeView(taken, Of(Turned(0, 0, 0, 0, 900))), ViewUse::kTooSmall);
  EXPECT_EQ(JudgeView(taken, Of(Turned(70, 0))), ViewUse::kTooSteep);
  EXPECT_TRUE(HeldStill(taken[0], Of(Turned(30.1, 0))));
  EXPECT_FALSE(HeldStill(taken[0], Of(Turned(30, 0, 3))));
}

}  // namespace
}  // namespace nearpoint
