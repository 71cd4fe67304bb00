// A face that is known, seen through a known camera: the lengths come back.
#include "calibration/face_fit.h"

#include <gmock/gmock.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <random>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

constexpr double kDegree = std::numbers::pi / 180;

CameraIntrinsics Camera() {
  CameraIntrinsics camera;
  camera.width = 1280;
  camera.height = 720;
  camera.fx = 1005;
  camera.fy = 1005;
  camera.cx = 639.5;
  camera.cy = 359.5;
  return camera;
}

Eigen::Vector2d Pixel(const Eigen::Vector3d& p) {
  const CameraIntrinsics c = Camera();
  return {c.fx * p.x() / p.z() + c.cx, c.fy * p.y() / p.z() + c.cy};
}

struct Scene {
  double pd = 60, iris = 11.9, outer = 86, inner = 33, outer_depth = 9.5, inner_depth = 4.5;
  double distance = 450;
  double card_tip_deg = 8;  // a forehead slopes
  double card_turn_deg = 0;
  double card_depth = 12;  // before the corneal plane
  double turn_deg = 12;    // to either side
  bool card_follows = true;
  bool eyes_follow_lens = true;
  double noise_px = 0;
  int views = 21;
};

Eigen::Matrix3d Turn(double angle, const Eigen::Vector3d& axis) {
  return Eigen::AngleAxisd(angle, axis).toRotationMatrix();
}

// Head frame here as the camera's: x right in the picture (patient's left), y down, z away from the
// lens; origin between the corneal apices.
std::vector<FaceCardView> Views(const Scene& s) {
  std::vector<FaceCardView> views;
  std::mt19937 random(5);
  std::normal_distribution<double> noise(0, 1);
  const Eigen::Matrix3d head_from_card = Turn(s.card_turn_deg * kDegree, Eigen::Vector3d::UnitY()) *
                                         Turn(s.card_tip_deg * kDegree, Eigen::Vector3d::UnitX());
  const Eigen::Vector3d card_in_head(2, -48, -s.card_depth);
  const Eigen::Vector3d at(5, 10, s.distance);
  const auto jitter = [&](const Eigen::Vector2d& px) {
    return Eigen::Vector2d(px + s.noise_px * Eigen::Vector2d(noise(random), noise(random)));
  };
  for (int i = 0; i < s.views; ++i) {
    const double yaw = s.turn_deg * (2.0 * i / (s.views - 1) - 1) * kDegree;
    const Eigen::Matrix3d turn = Turn(yaw, Eigen::Vector3d::UnitY());
    const auto in_camera = [&](const Eigen::Vector3d& p) { return Eigen::Vector3d(turn * p + at); };
    FaceCardView view;
    view.camera_from_card = turn * head_from_card;
    view.card_middle_mm = in_camera(card_in_head);
    if (!s.card_follows) {  // it wobbles in the hand instead
      view.camera_from_card = Turn(yaw, Eigen::Vector3d::UnitX()) * head_from_card;
      view.card_middle_mm = card_in_head + at;
    }
    for (const double side : {1.0, -1.0}) {
      const Eigen::Vector3d centre = in_camera({side * s.pd / 2, 0, 13.5});
      const Eigen::Vector3d gaze = s.eyes_follow_lens
                                       ? Eigen::Vector3d(-centre.normalized())
                                       : Eigen::Vector3d(turn * -Eigen::Vector3d::UnitZ());
      const Eigen::Vector3d limbus = centre + 10.86 * gaze;
      // A circle square to the line of sight: its cone is cut by the picture's plane in an ellipse
      // that is longer by one over the cosine of its place, along the radius.
      const double off = std::atan(limbus.head<2>().norm() / limbus.z());
      SeenIris iris{jitter(Pixel(limbus)),
                    Camera().fx * s.iris / limbus.norm() / std::pow(std::cos(off), 2)};
      iris.major_px += 0.5 * s.noise_px * noise(random);
      (side > 0 ? view.left : view.right) = iris;
    }
    const Eigen::Vector3d corners[] = {{-s.outer / 2, 1, s.outer_depth},
                                       {-s.inner / 2, 2.5, s.inner_depth},
                                       {s.inner / 2, 2.5, s.inner_depth},
                                       {s.outer / 2, 1, s.outer_depth}};
    for (std::size_t k = 0; k < 4; ++k) view.corners_px[k] = jitter(Pixel(in_camera(corners[k])));
    views.push_back(view);
  }
  return views;
}

TEST(FaceFit, ExactViewsGiveTheExactFace) {
  const Scene s;
  const auto fit = FitFaceScale(Views(s), Camera());
  ASSERT_THAT(fit, IsOk());
  EXPECT_NEAR(fit->face.distance_pd->value.mm(), s.pd, 0.1);
  EXPECT_NEAR(fit->face.iris->value.mm(), s.iris, 0.03);
  EXPECT_NEAR(fit->face.outer_corners->value.mm(), s.outer, 0.2);
  EXPECT_NEAR(fit->face.inner_corners->value.mm(), s.inner, 0.2);
  // The head frame takes "forward" from the card, whose slope of 8 degrees turns the heights of the
  // corners (1 and 2.5 mm) and the 13.5 mm of the eye into 0.3 to 0.5 mm of depth.
  EXPECT_NEAR(fit->face.outer_corner_depth->value.mm(), s.outer_depth, 0.8);
  EXPECT_NEAR(fit->face.inner_corner_depth->value.mm(), s.inner_depth, 0.8);
  EXPECT_NEAR(fit->turn_deg, 24, 0.5);
  EXPECT_LT(fit->misfit_px, 0.05);
}

TEST(FaceFit, TiltAndDepthOfTheCardDoNotChangeTheScale) {
  for (const double tip : {0.0, 15.0}) {
    for (const double depth : {4.0, 30.0}) {
      Scene s;
      s.card_tip_deg = tip;
      s.card_depth = depth;
      s.card_turn_deg = 6;
      const auto fit = FitFaceScale(Views(s), Camera());
      ASSERT_THAT(fit, IsOk());
      EXPECT_NEAR(fit->face.distance_pd->value.mm(), s.pd, 0.2);
      EXPECT_NEAR(fit->face.iris->value.mm(), s.iris, 0.04);
    }
  }
}

TEST(FaceFit, DeviationsCoverNoisyViews) {
  Scene s;
  s.noise_px = 0.3;
  const auto fit = FitFaceScale(Views(s), Camera());
  ASSERT_THAT(fit, IsOk());
  const FaceScale& f = fit->face;
  for (const auto& [length, truth] :
       {std::pair{f.distance_pd, s.pd}, std::pair{f.iris, s.iris},
        std::pair{f.outer_corners, s.outer}, std::pair{f.inner_corners, s.inner},
        std::pair{f.outer_corner_depth, s.outer_depth},
        std::pair{f.inner_corner_depth, s.inner_depth}}) {
    EXPECT_NEAR(length->value.mm(), truth, 3 * length->sd.mm());
    EXPECT_GT(length->sd.mm(), 0.02);
  }
}

TEST(FaceFit, AHeadThatDoesNotTurnGivesNoScale) {
  Scene s;
  s.turn_deg = 4;
  EXPECT_THAT(FitFaceScale(Views(s), Camera()),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("turn it slowly")));
}

TEST(FaceFit, ACardThatDoesNotFollowTheHeadIsRefused) {
  Scene s;
  s.card_follows = false;
  EXPECT_THAT(FitFaceScale(Views(s), Camera()),
              FailsWith(ErrorCode::kBadValue, HasSubstr("repeat")));
}

TEST(FaceFit, ACardFarFromTheFaceIsRefused) {
  Scene s;
  s.card_depth = 80;
  EXPECT_THAT(FitFaceScale(Views(s), Camera()),
              FailsWith(ErrorCode::kBadValue, HasSubstr("another depth")));
}

TEST(FaceFit, ACardAskewToTheEyesIsRefused) {
  Scene s;
  s.card_turn_deg = 20;
  EXPECT_THAT(FitFaceScale(Views(s), Camera()),
              FailsWith(ErrorCode::kBadValue, HasSubstr("tilted by")));
}

TEST(FaceFit, EyesThatTurnWithTheHeadAreNoticed) {
  Scene s;
  s.eyes_follow_lens = false;
  EXPECT_THAT(FitFaceScale(Views(s), Camera()),
              FailsWith(ErrorCode::kBadValue, HasSubstr("did not stay on the lens")));
}

TEST(FaceFit, NoOrFewViewsAreNotEnough) {
  EXPECT_THAT(FitFaceScale({}, Camera()), FailsWith(ErrorCode::kInsufficient, HasSubstr("8")));
  Scene s;
  s.views = 5;
  EXPECT_THAT(FitFaceScale(Views(s), Camera()),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("5 pictures")));
}

TEST(FaceFit, OneWrongIrisIsLeftOut) {
  Scene s;
  s.noise_px = 0.05;
  std::vector<FaceCardView> views = Views(s);
  views[4].left->centre_px += Eigen::Vector2d(9, -3);
  const auto fit = FitFaceScale(views, Camera());
  ASSERT_THAT(fit, IsOk());
  EXPECT_EQ(fit->views_left_out, 1);
  EXPECT_NEAR(fit->face.distance_pd->value.mm(), s.pd, 0.3);
}

}  // namespace
}  // namespace nearpoint
