#include "vision/eyes/lid_corner.h"

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <opencv2/imgproc.hpp>

#include "models/landmark_model.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"
#include "vision/simulate/head_shape.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/studio.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

struct Picture {
  cv::Mat bgr;
  // By kind, of the patient's left eye: right of the middle.
  std::array<Eigen::Vector2d, kLidCornerKinds> corner_px;
  double iris_radius_px = 0;
};

// A simulated person whom the model was not learned from.
Picture Photograph(double head_scale, double skin_tone, double yaw_deg) {
  simulate::PatientOptions o;
  o.appearance.head_scale = head_scale;
  o.appearance.distance_pd = Length::Millimeters(62 * head_scale);
  o.appearance.skin_tone = skin_tone;
  o.appearance.texture_seed = 987654321;
  o.optics.camera = simulate::PinholeCamera(640, 240, Angle::Degrees(35));
  o.target_mm = {0, 0, 0};
  simulate::Studio studio(o);
  const auto state =
      simulate::Performance::Posed(o, Length::Millimeters(450), Angle::Degrees(yaw_deg), {}, {});
  Picture picture;
  picture.bgr = studio.TakeStill(0, state);
  picture.iris_radius_px = studio.Truth(0, {}, state).left_eye.limbus_major_px / 2;
  const simulate::HeadShape shape(o.appearance);
  picture.corner_px[0] = simulate::Project(
      o.optics.camera, state.camera_from_head * shape.OuterCorner() + state.eye_mid_mm);
  picture.corner_px[1] = simulate::Project(
      o.optics.camera, state.camera_from_head * shape.InnerCorner() + state.eye_mid_mm);
  return picture;
}

LidCornerFinder Finder() { return LidCornerFinder::Load(FindLidCornerModel().value()).value(); }

TEST(LidCornerTest, FindsTheCornersOfPeopleItWasNotLearnedFrom) {
  const LidCornerFinder finder = Finder();
  for (const double scale : {0.87, 1.0, 1.08}) {
    for (const double skin : {0.1, 0.9}) {
      const Picture p = Photograph(scale, skin, 100 * (scale - 1));
      const double mm = p.iris_radius_px / 5.85;
      for (const int kind : {0, 1}) {
        const Eigen::Vector2d& truth = p.corner_px[static_cast<std::size_t>(kind)];
        const Eigen::Vector2d& other = p.corner_px[static_cast<std::size_t>(1 - kind)];
        for (const double aside : {-1.5, 0.0, 1.5}) {
          const Eigen::Vector2d guess = truth + mm * Eigen::Vector2d(aside, -aside / 2);
          const auto corner =
              finder.Find(p.bgr, static_cast<LidCornerKind>(kind), guess, other, p.iris_radius_px);
          ASSERT_TRUE(corner.has_value()) << scale << ' ' << skin << ' ' << kind << ' ' << aside;
          EXPECT_LT((corner->position_px - truth).norm() / mm, 1.0)
              << scale << ' ' << skin << ' ' << kind << ' ' << aside;
          EXPECT_LT(corner->sd_px / mm, 0.7);
        }
      }
    }
  }
}

TEST(LidCornerTest, TheMirroredPictureHasTheMirroredCorner) {
  const LidCornerFinder finder = Finder();
  const Picture p = Photograph(1, 0.4, 5);
  cv::Mat mirrored;
  cv::flip(p.bgr, mirrored, 1);
  const auto flip = [&](Eigen::Vector2d at) {
    at.x() = p.bgr.cols - 1 - at.x();
    return at;
  };
  const Eigen::Vector2d guess = p.corner_px[0] + Eigen::Vector2d(-2, 1);
  const auto here =
      finder.Find(p.bgr, LidCornerKind::kOuter, guess, p.corner_px[1], p.iris_radius_px);
  const auto there = finder.Find(mirrored, LidCornerKind::kOuter, flip(guess), flip(p.corner_px[1]),
                                 p.iris_radius_px);
  ASSERT_TRUE(here && there);
  EXPECT_LT((flip(there->position_px) - here->position_px).norm(), 0.01);
}

TEST(LidCornerTest, LightAndGainDoNotMoveIt) {
  const LidCornerFinder finder = Finder();
  const Picture p = Photograph(1, 0.4, 0);
  cv::Mat darker;
  p.bgr.convertTo(darker, -1, 0.6);
  const auto bright =
      finder.Find(p.bgr, LidCornerKind::kOuter, p.corner_px[0], p.corner_px[1], p.iris_radius_px);
  const auto dark =
      finder.Find(darker, LidCornerKind::kOuter, p.corner_px[0], p.corner_px[1], p.iris_radius_px);
  ASSERT_TRUE(bright && dark);
  EXPECT_LT((bright->position_px - dark->position_px).norm(), 0.5);
}

// Error of an eye's width, both corners found, millimetres; mean over people.
double WidthError(const LidCornerFinder& finder, double head_scale) {
  double sum = 0;
  int count = 0;
  for (const double skin : {0.2, 0.8}) {
    const Picture p = Photograph(head_scale, skin, 0);
    const auto found = finder.FindBoth(p.bgr, p.corner_px, p.iris_radius_px);
    if (!found[0] || !found[1]) continue;
    sum += ((found[0]->position_px - found[1]->position_px).norm() -
            (p.corner_px[0] - p.corner_px[1]).norm()) /
           (p.iris_radius_px / 5.85);
    ++count;
  }
  EXPECT_GE(count, 1) << head_scale;
  return sum / std::max(1, count);
}

// How much the steps by the width add is a matter of many people: see nearpoint_bench_face.
TEST(LidCornerTest, BothTogetherTellTheWidthOnHeadsOfAllSizes) {
  const LidCornerFinder finder = Finder();
  const double small = WidthError(finder, 0.86);
  const double usual = WidthError(finder, 1.0);
  const double large = WidthError(finder, 1.09);
  EXPECT_LT(std::max({std::abs(small), std::abs(usual), std::abs(large)}), 0.5)
      << small << ' ' << usual << ' ' << large;
  EXPECT_LT(std::abs(large - small), 0.4) << small << ' ' << usual << ' ' << large;
}

TEST(LidCornerTest, WhereOneCornerIsHiddenTheOtherIsFoundAsAlone) {
  const LidCornerFinder finder = Finder();
  const Picture p = Photograph(1, 0.4, 0);
  // The outer corner is looked for where the picture ends.
  const Eigen::Vector2d beside(p.bgr.cols - 2.0, p.corner_px[0].y());
  const auto both = finder.FindBoth(p.bgr, {beside, p.corner_px[1]}, p.iris_radius_px);
  const auto alone =
      finder.Find(p.bgr, LidCornerKind::kInner, p.corner_px[1], beside, p.iris_radius_px);
  EXPECT_FALSE(both[0]);
  ASSERT_TRUE(both[1] && alone);
  EXPECT_EQ(both[1]->position_px, alone->position_px);
}

TEST(LidCornerTest, WhatIsHiddenOrOutsideIsNotGuessed) {
  const LidCornerFinder finder = Finder();
  Picture p = Photograph(1, 0.4, 0);
  const auto find = [&](const cv::Mat& picture, const Eigen::Vector2d& guess) {
    return finder.Find(picture, LidCornerKind::kOuter, guess, p.corner_px[1], p.iris_radius_px);
  };
  EXPECT_FALSE(find(p.bgr, {p.bgr.cols - 2.0, 100.0}).has_value());
  EXPECT_FALSE(find(cv::Mat(), p.corner_px[0]).has_value());
  EXPECT_FALSE(
      finder.Find(p.bgr, LidCornerKind::kOuter, p.corner_px[0], p.corner_px[0], p.iris_radius_px)
          .has_value());
  // Far beside the eye there is skin alone, and the steps do not agree on a place.
  const Eigen::Vector2d cheek = p.corner_px[0] + Eigen::Vector2d(-20, 55);
  const auto found = find(p.bgr, cheek);
  EXPECT_TRUE(!found || found->sd_px > 0.5) << found->position_px.transpose();
}

TEST(LidCornerTest, ABrokenFileIsNamed) {
  const TempFolder folder;
  EXPECT_THAT(LidCornerFinder::Load(folder / "none.dat"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("none.dat")));
  std::ifstream in(FindLidCornerModel().value(), std::ios::binary);
  const std::string bytes((std::istreambuf_iterator<char>(in)), {});
  for (const std::string& broken :
       {bytes.substr(0, bytes.size() - 4), std::string("x") + bytes.substr(1), std::string()}) {
    EXPECT_THAT(LidCornerFinder::Load(folder.Write("broken.dat", broken)),
                FailsWith(ErrorCode::kUnreadable, HasSubstr("broken.dat")));
  }
  // A number that is none.
  std::string nan = bytes;
  nan.replace(nan.size() - 4, 4, "\xff\xff\xff\x7f");
  EXPECT_THAT(LidCornerFinder::Load(folder.Write("nan.dat", nan)),
              FailsWith(ErrorCode::kUnreadable, HasSubstr("nan.dat")));
  EXPECT_THAT(VerifyModel(FindLidCornerModel().value()), IsOk());
}

}  // namespace
}  // namespace nearpoint
