// The eye finder and reader on simulated patients, whom neither was trained on, and on what holds
// no eye.
#include "vision/face/eye_net.h"

#include <gmock/gmock.h>

#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "models/landmark_model.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/studio.h"

namespace nearpoint {
namespace {

using simulate::kLeft;
using simulate::kRight;
using simulate::PatientState;
using simulate::Performance;
using testing::HasSubstr;

EyeNet Load() {
  auto net = EyeNet::Load(FindEyeFinderModel().value(), FindEyeReaderModel().value());
  EXPECT_TRUE(net);
  return *std::move(net);
}

struct Seen {
  cv::Mat bgr;
  std::array<Eigen::Vector2d, 2> opening, iris;
  std::array<double, 2> radius{};
};

// The middle between the corners, as the simulator knows it.
Seen Photograph(double distance_mm, double lids_closed, bool glasses) {
  simulate::PatientOptions p;
  p.appearance.glasses = glasses;
  p.optics.camera = simulate::PinholeCamera(640, 360, Angle::Degrees(65));
  simulate::Studio studio(p);
  PatientState state = Performance::Posed(p, Length::Millimeters(distance_mm), {}, {}, {});
  state.lids_closed = lids_closed;
  Seen out;
  out.bgr = studio.TakeStill(0, state);
  const auto truth = studio.Truth(0, {}, state);
  const auto& shape = studio.renderer().shape();
  for (const int eye : {kLeft, kRight}) {
    const auto e = static_cast<std::size_t>(eye);
    Eigen::Vector2d sum = Eigen::Vector2d::Zero();
    for (Eigen::Vector3d corner : {shape.InnerCorner(), shape.OuterCorner()}) {
      corner.x() *= simulate::SideSign(eye);
      sum += simulate::Project(p.optics.camera, state.camera_from_head * corner + state.eye_mid_mm);
    }
    out.opening[e] = sum / 2;
    const auto& t = eye == kLeft ? truth.left_eye : truth.right_eye;
    out.iris[e] = t.limbus_centre_px;
    out.radius[e] = t.limbus_major_px / 2;
  }
  return out;
}

TEST(EyeNetTest, FindsBothEyesFromNearToFar) {
  const EyeNet net = Load();
  for (const double distance : {60.0, 80.0, 120.0, 200.0}) {
    const Seen seen = Photograph(distance, 0, false);
    const auto pairs = net.Find(seen.bgr);
    ASSERT_FALSE(pairs.empty()) << distance;
    EXPECT_LT((pairs[0].image_right.middle_px - seen.opening[kLeft]).norm(), seen.radius[kLeft])
        << distance;
    EXPECT_LT((pairs[0].image_left.middle_px - seen.opening[kRight]).norm(), seen.radius[kRight])
        << distance;
    EXPECT_NEAR(pairs[0].image_left.iris_radius_px / seen.radius[kRight], 1, 0.25) << distance;
  }
}

TEST(EyeNetTest, ReadsIrisAndLidsOfEitherEyeFromAGuessThatIsOff) {
  const EyeNet net = Load();
  for (const double distance : {70.0, 120.0, 300.0}) {
    const Seen seen = Photograph(distance, 0, false);
    for (const std::size_t e : {0U, 1U}) {
      const double r = seen.radius[e];
      const EyeReading reading = net.Read(
          seen.bgr, seen.opening[e] + Eigen::Vector2d(0.4 * r, -0.3 * r), 1.2 * r, 0, e == kLeft);
      EXPECT_GT(reading.present, 0) << distance;
      EXPECT_GT(reading.open, 0) << distance;
      EXPECT_LT(std::abs(reading.iris_px.x() - seen.iris[e].x()), 0.25 * r) << distance;
      EXPECT_NEAR(reading.iris_radius_px / r, 1, 0.15) << distance;
      const LidOpening lids(reading);
      EXPECT_GT(lids.Inside(reading.iris_px), 0) << distance;
      EXPECT_LT(lids.Inside(reading.iris_px - Eigen::Vector2d(0, 2 * r)), 0) << distance;
    }
  }
}

TEST(EyeNetTest, ShutLidsAreAnEyeThatIsShut) {
  const EyeNet net = Load();
  const Seen seen = Photograph(120, 1, false);
  for (const std::size_t e : {0U, 1U}) {
    const EyeReading reading = net.Read(seen.bgr, seen.opening[e], seen.radius[e], 0, e == kLeft);
    EXPECT_LT(reading.open, 0);
    EXPECT_LT(reading.aperture, 0.17);
  }
}

// Turned by a roll, the answer turns with it: no axis of the picture is special.
TEST(EyeNetTest, AReadingTurnsWithTheHead) {
  const EyeNet net = Load();
  const Seen seen = Photograph(120, 0, false);
  const double angle = 0.2;
  const cv::Mat turn = cv::getRotationMatrix2D({320, 180}, -angle * 180 / M_PI, 1);
  cv::Mat turned;
  cv::warpAffine(seen.bgr, turned, turn, seen.bgr.size(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
  const auto to = [&](const Eigen::Vector2d& p) -> Eigen::Vector2d {
    return {turn.at<double>(0, 0) * p.x() + turn.at<double>(0, 1) * p.y() + turn.at<double>(0, 2),
            turn.at<double>(1, 0) * p.x() + turn.at<double>(1, 1) * p.y() + turn.at<double>(1, 2)};
  };
  const double r = seen.radius[kLeft];
  const EyeReading straight = net.Read(seen.bgr, seen.opening[kLeft], r, 0, true);
  const EyeReading rolled = net.Read(turned, to(seen.opening[kLeft]), r, angle, true);
  EXPECT_LT((rolled.iris_px - to(straight.iris_px)).norm(), 0.06 * r);
  EXPECT_NEAR(rolled.iris_radius_px, straight.iris_radius_px, 0.05 * r);
}

TEST(EyeNetTest, SeesNoEyesInAWallOrInNoise) {
  const EyeNet net = Load();
  cv::Mat noise(360, 640, CV_8UC3);
  cv::RNG random(7);
  random.fill(noise, cv::RNG::UNIFORM, 0, 256);
  for (const cv::Mat& picture : {cv::Mat(360, 640, CV_8UC3, cv::Scalar(90, 120, 140)), noise}) {
    for (const FoundPair& pair : net.Find(picture)) EXPECT_LT(pair.Logit(), 0);
    EXPECT_LT(net.Read(picture, {320, 180}, 20, 0, true).present, 0);
  }
  EXPECT_TRUE(net.Find(cv::Mat()).empty());
}

TEST(EyeNetTest, SaysWhichModelIsMissingOrBroken) {
  const TempFolder folder;
  const auto missing = EyeNet::Load(folder / "none.onnx", FindEyeReaderModel().value());
  EXPECT_THAT(missing, FailsWith(ErrorCode::kNotFound, HasSubstr("none.onnx")));
  const auto broken =
      EyeNet::Load(FindEyeFinderModel().value(), folder.Write("broken.onnx", "no network"));
  EXPECT_THAT(broken, FailsWith(ErrorCode::kUnreadable, HasSubstr("broken.onnx")));
}

}  // namespace
}  // namespace nearpoint
