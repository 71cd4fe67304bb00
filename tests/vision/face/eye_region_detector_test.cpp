// The model was learned from other simulated patients than those here.
#include "vision/face/eye_region_detector.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <string>
#include <thread>
#include <vector>

#include "models/landmark_model.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"
#include "vision/simulate/head_shape.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/studio.h"

namespace nearpoint {
namespace {

using simulate::kLeft;
using simulate::kRight;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

const EyeRegionDetector& Detector() {
  static const EyeRegionDetector detector =
      EyeRegionDetector::Load(FindEyeRegionModel().value()).value();
  return detector;
}

simulate::PatientOptions Person(double skin, bool glasses) {
  simulate::PatientOptions options;
  options.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  options.optics.aperture = Length::Millimeters(1);
  options.appearance.skin_tone = skin;
  options.appearance.iris_tone = skin;
  options.appearance.glasses = glasses;
  options.appearance.texture_seed = 424242;
  return options;
}

struct Shot {
  cv::Mat grey;
  std::array<Eigen::Vector2d, 2> opening_px;  // patient's left, right
  std::array<double, 2> iris_px;
};

Shot Take(const simulate::PatientOptions& options, double distance_mm, double drift_deg = 0) {
  simulate::Studio studio(options);
  const auto state = simulate::Performance::Posed(options, Length::Millimeters(distance_mm),
                                                  Angle::Degrees(3), Angle::Degrees(-2),
                                                  Angle::Degrees(4), Angle::Degrees(drift_deg));
  Shot shot;
  cv::cvtColor(studio.TakeStill(0, state), shot.grey, cv::COLOR_BGR2GRAY);
  const simulate::HeadShape shape(options.appearance);
  const auto truth = studio.Truth(0, {}, state);
  for (const int eye : {kLeft, kRight}) {
    Eigen::Vector2d sum = Eigen::Vector2d::Zero();
    for (Eigen::Vector3d corner : {shape.InnerCorner(), shape.OuterCorner()}) {
      corner.x() *= simulate::SideSign(eye);
      sum += simulate::Project(options.optics.camera,
                               state.camera_from_head * corner + state.eye_mid_mm);
    }
    const auto at = static_cast<std::size_t>(eye);
    shot.opening_px[at] = sum / 2;
    shot.iris_px[at] =
        eye == kLeft ? truth.left_eye.limbus_major_px : truth.right_eye.limbus_major_px;
  }
  return shot;
}

std::vector<EyeRegion> LeftmostFirst(std::vector<EyeRegion> regions) {
  std::sort(regions.begin(), regions.end(), [](const EyeRegion& a, const EyeRegion& b) {
    return a.centre_px.x() < b.centre_px.x();
  });
  return regions;
}

struct Condition {
  std::string name;
  double skin;
  bool glasses;
  double distance_mm, drift_deg;
};

class EyeRegionDetectorOn : public testing::TestWithParam<Condition> {};

TEST_P(EyeRegionDetectorOn, FindsBothEyesWithinAThirdOfAnIris) {
  const Condition& c = GetParam();
  const Shot shot = Take(Person(c.skin, c.glasses), c.distance_mm, c.drift_deg);
  const auto found = LeftmostFirst(Detector().Detect(shot.grey));
  ASSERT_THAT(found, SizeIs(2));
  // The patient's right eye is on the left of the picture.
  for (const int eye : {kRight, kLeft}) {
    const EyeRegion& region = found[eye == kRight ? 0 : 1];
    const auto at = static_cast<std::size_t>(eye);
    EXPECT_LT((region.centre_px - shot.opening_px[at]).norm(), 0.35 * shot.iris_px[at]);
    EXPECT_NEAR(std::log(region.iris_diameter_px / shot.iris_px[at]), 0, 0.3);
    EXPECT_GT(region.confidence, 0);
    EXPECT_LT(region.confidence, 1);
  }
}

INSTANTIATE_TEST_SUITE_P(Conditions, EyeRegionDetectorOn,
                         testing::Values(Condition{"LightSkin", 0.05, false, 80, 0},
                                         Condition{"DarkSkin", 0.95, false, 80, 0},
                                         Condition{"Glasses", 0.4, true, 80, 0},
                                         Condition{"Near", 0.4, false, 60, 0},
                                         Condition{"Far", 0.4, false, 150, 0},
                                         Condition{"Drifting", 0.4, false, 90, 10}),
                         [](const auto& each) { return each.param.name; });

TEST(EyeRegionDetectorTest, AnswersAMirroredPictureWithTheMirrorImage) {
  const Shot shot = Take(Person(0.4, false), 100);
  cv::Mat mirrored;
  cv::flip(shot.grey, mirrored, 1);
  const auto plain = LeftmostFirst(Detector().Detect(shot.grey));
  const auto flipped = LeftmostFirst(Detector().Detect(mirrored));
  ASSERT_THAT(plain, SizeIs(2));
  ASSERT_THAT(flipped, SizeIs(2));
  for (std::size_t i = 0; i < 2; ++i) {
    const EyeRegion& a = plain[i];
    const EyeRegion& b = flipped[1 - i];
    // The grid of cells, 0.3 irises each, starts at the left edge of either picture: each answer is
    // within half a cell of the eye, so the two agree to one.
    const double tolerance = 0.3 * shot.iris_px[0];
    EXPECT_NEAR(a.centre_px.x(), shot.grey.cols - 1 - b.centre_px.x(), tolerance);
    EXPECT_NEAR(a.centre_px.y(), b.centre_px.y(), tolerance);
    EXPECT_NEAR(std::log(a.iris_diameter_px / b.iris_diameter_px), 0, 0.1);
  }
}

TEST(EyeRegionDetectorTest, ScalesWithThePicture) {
  const Shot shot = Take(Person(0.4, false), 100);
  cv::Mat half;
  cv::resize(shot.grey, half, {}, 0.5, 0.5, cv::INTER_AREA);
  const auto whole = LeftmostFirst(Detector().Detect(shot.grey));
  const auto small = LeftmostFirst(Detector().Detect(half));
  ASSERT_THAT(whole, SizeIs(2));
  ASSERT_THAT(small, SizeIs(2));
  for (std::size_t i = 0; i < 2; ++i) {
    EXPECT_LT((2 * small[i].centre_px - whole[i].centre_px).norm(), 0.05 * shot.iris_px[0]);
    EXPECT_NEAR(2 * small[i].iris_diameter_px / whole[i].iris_diameter_px, 1, 0.05);
  }
}

TEST(EyeRegionDetectorTest, GivesTheMoreCertainEyeFirstAndTheSameFromEveryThread) {
  const Shot shot = Take(Person(0.4, false), 100);
  const auto expected = Detector().Detect(shot.grey);
  ASSERT_THAT(expected, SizeIs(2));
  EXPECT_GE(expected[0].confidence, expected[1].confidence);
  std::array<std::vector<EyeRegion>, 2> found;
  {
    std::thread other([&] { found[1] = Detector().Detect(shot.grey); });
    found[0] = Detector().Detect(shot.grey);
    other.join();
  }
  for (const auto& regions : found) {
    ASSERT_THAT(regions, SizeIs(2));
    for (std::size_t i = 0; i < 2; ++i) EXPECT_EQ(regions[i].centre_px, expected[i].centre_px);
  }
}

TEST(EyeRegionDetectorTest, FindsNoEyesWhereThereAreNone) {
  EXPECT_THAT(Detector().Detect(cv::Mat()), IsEmpty());
  EXPECT_THAT(Detector().Detect(cv::Mat(720, 1280, CV_8U, cv::Scalar(90))), IsEmpty());
  EXPECT_THAT(Detector().Detect(cv::Mat(720, 1280, CV_8UC3, cv::Scalar(90, 90, 90))), IsEmpty());
  EXPECT_THAT(Detector().Detect(cv::Mat(8, 8, CV_8U, cv::Scalar(90))), IsEmpty());
  cv::Mat noise(720, 1280, CV_8U);
  cv::RNG(7).fill(noise, cv::RNG::UNIFORM, 0, 256);
  EXPECT_THAT(Detector().Detect(noise), IsEmpty());
}

TEST(EyeRegionDetectorTest, RefusesFilesThatAreNoModel) {
  const TempFolder folder;
  EXPECT_THAT(EyeRegionDetector::Load(folder / "none.dat"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("none.dat")));
  EXPECT_THAT(EyeRegionDetector::Load(folder.Write("text.dat", "no model")),
              FailsWith(ErrorCode::kUnreadable, HasSubstr("text.dat")));
  EXPECT_THAT(EyeRegionDetector::Load(folder.Write("empty.dat", "")),
              FailsWith(ErrorCode::kUnreadable, HasSubstr("empty.dat")));
}

TEST(EyeRegionModelTest, IsTheOneTheProgramWasMadeWith) {
  const auto file = FindEyeRegionModel();
  ASSERT_TRUE(file.has_value()) << file.error().message;
  EXPECT_TRUE(VerifyModel(*file).has_value());
  const TempFolder folder;
  EXPECT_THAT(VerifyModel(folder.Write("eye_regions.dat", "altered")),
              FailsWith(ErrorCode::kMismatch, HasSubstr(std::string(kEyeRegionModelSha256))));
}

}  // namespace
}  // namespace nearpoint
