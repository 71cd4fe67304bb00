#include "calibration/adjust_camera.h"

#include <gmock/gmock.h>

#include <cmath>
#include <cstdio>
#include <fstream>
#include <map>
#include <opencv2/calib3d.hpp>
#include <random>
#include <string>

#include "calibration/camera_check.h"
#include "tests/support/card_studio.h"
#include "tests/support/result_matchers.h"
#include "vision/card/card_pattern.h"

namespace nearpoint {
namespace {

using drawn::CardPose;
using testing::HasSubstr;

// Homography by OpenCV, from any points of the view.
void AddHomography(CardView& view, const std::vector<Eigen::Vector2d>& mm,
                   const std::vector<Eigen::Vector2d>& px) {
  std::vector<cv::Point2d> a, b;
  for (const auto& p : mm) a.emplace_back(p.x(), p.y());
  for (const auto& p : px) b.emplace_back(p.x(), p.y());
  const cv::Mat h = cv::findHomography(a, b);
  for (int r = 0; r < 3; ++r) {
    for (int c = 0; c < 3; ++c) view.image_from_card(r, c) = h.at<double>(r, c);
  }
}

// The four edges of a card with points on them that are off by Gaussian noise.
CardView PlainView(const CameraIntrinsics& camera, const CardPose& pose, double noise_px,
                   std::mt19937_64& random) {
  CardView view;
  std::normal_distribution<double> noise(0, noise_px);
  const auto corners = CardCorners();
  std::vector<Eigen::Vector2d> mm, px;
  for (std::size_t i = 0; i < 4; ++i) {
    const Eigen::Vector2d& a = corners[i];
    const Eigen::Vector2d& b = corners[(i + 1) % 4];
    view.edges.push_back({a, b});
    mm.push_back(a);
    px.push_back(TruePixel(camera, pose, a));
    for (int k = 0; k < 16; ++k) {
      const double t = 0.1 + 0.8 * (k + 0.5) / 16;
      const Eigen::Vector2d at = TruePixel(camera, pose, a + t * (b - a));
      view.edge_points.push_back({static_cast<int>(i),
                                  at + Eigen::Vector2d(noise(random), noise(random)),
                                  std::max(noise_px, 1e-3)});
    }
  }
  AddHomography(view, mm, px);
  return view;
}

AdjustOptions OptionsFor(const CameraIntrinsics& camera, const CardPrior& prior) {
  AdjustOptions options;
  options.width = camera.width;
  options.height = camera.height;
  options.card = prior;
  return options;
}

// A thin sheet of known shape, so that nothing but the camera is unknown.
CardPrior KnownCard() {
  CardPrior prior;
  prior.bow_mm = prior.aspect = prior.shift_px = 1e-6;
  return prior;
}

TEST(AdjustCameraTest, RecoversTheCameraFromPerfectEdges) {
  for (int seed = 1; seed <= 3; ++seed) {
    std::mt19937_64 random(static_cast<std::uint64_t>(seed));
    const CameraIntrinsics truth = drawn::DrawCamera(random);
    std::vector<CardView> views;
    for (const CardPose& pose : drawn::DrawPoses(truth, 12, random)) {
      views.push_back(PlainView(truth, pose, 0, random));
    }
    const auto found = AdjustCamera(views, OptionsFor(truth, KnownCard()));
    ASSERT_THAT(found, IsOk());
    EXPECT_NEAR(found->camera.fx / truth.fx, 1, 2e-5);
    EXPECT_NEAR(found->camera.fy / truth.fy, 1, 2e-5);
    EXPECT_NEAR(found->camera.cx, truth.cx, 0.05);
    EXPECT_NEAR(found->camera.cy, truth.cy, 0.05);
    EXPECT_NEAR(found->camera.distortion[0], truth.distortion[0], 1e-3);
    EXPECT_NEAR(found->camera.distortion[1], truth.distortion[1], 5e-3);
    EXPECT_LT(found->rms_px, 1e-3);
  }
}

TEST(AdjustCameraTest, PlacesTheCardWhereItIs) {
  std::mt19937_64 random(5);
  const CameraIntrinsics camera = drawn::DrawCamera(random);
  for (const CardPose& pose : drawn::DrawPoses(camera, 8, random)) {
    const auto placed = PlaceCard(PlainView(camera, pose, 0, random), camera);
    ASSERT_TRUE(placed.has_value());
    EXPECT_LT((placed->card_in_camera_mm - pose.middle_in_camera_mm).norm(), 0.01);
    EXPECT_LT((placed->camera_from_card - pose.camera_from_card).norm(), 1e-3);
  }
}

// Noise drawn anew 200 times: the truth must lie within 1.96 stated deviations in 90 to 99 % of
// runs (95 % is nominal). Rendered pictures: nearpoint_bench_camera.
TEST(AdjustCameraTest, TheStatedDeviationIsHonest) {
  int within = 0, centre_within = 0;
  constexpr int kRuns = 200;
  double squares = 0;
  for (int run = 0; run < kRuns; ++run) {
    std::mt19937_64 random(static_cast<std::uint64_t>(1000 + run));
    const CameraIntrinsics truth = drawn::DrawCamera(random);
    std::vector<CardView> views;
    for (const CardPose& pose : drawn::DrawPoses(truth, 8, random)) {
      views.push_back(PlainView(truth, pose, 0.1, random));
    }
    CardPrior prior = KnownCard();
    const auto found = AdjustCamera(views, OptionsFor(truth, prior));
    ASSERT_THAT(found, IsOk());
    const double z = (found->camera.fx / truth.fx - 1) / found->camera.focal_rel_sd;
    within += std::abs(z) < 1.96;
    squares += z * z / kRuns;
    centre_within +=
        std::abs(found->camera.cx - truth.cx) < 1.96 * std::sqrt(found->covariance(2, 2));
  }
  EXPECT_GE(within, 180) << squares;
  EXPECT_LE(within, 198) << squares;
  EXPECT_GE(centre_within, 180);
  EXPECT_LE(centre_within, 198);
}

struct Board {
  std::vector<CardView> views;
  std::vector<std::vector<cv::Point3f>> object;
  std::vector<std::vector<cv::Point2f>> image;
};

Board ReadBoard() {
  Board board;
  std::ifstream file(NEARPOINT_TEST_DATA "/chessboard_corners.csv");
  std::map<int, std::vector<Eigen::Vector2d>> corners;
  for (std::string line; std::getline(file, line);) {
    int view = 0;
    double x = 0, y = 0;
    if (std::sscanf(line.c_str(), "%d,%lf,%lf", &view, &x, &y) == 3) {
      corners[view].emplace_back(x, y);
    }
  }
  constexpr double kSquareMm = 25;  // left_intrinsics.yml: square_size
  for (const auto& [number, px] : corners) {
    CardView view;
    std::vector<Eigen::Vector2d> mm;
    board.object.emplace_back();
    board.image.emplace_back();
    for (std::size_t i = 0; i < px.size(); ++i) {
      const std::size_t line = i / 9;
      const auto column = static_cast<double>(i % 9);
      const auto row = static_cast<double>(line);
      mm.emplace_back((column - 4) * kSquareMm, (row - 2.5) * kSquareMm);
      view.points.push_back({mm.back(), px[i], 0.1});
      board.object.back().emplace_back(static_cast<float>(mm.back().x()),
                                       static_cast<float>(mm.back().y()), 0.0F);
      board.image.back().emplace_back(static_cast<float>(px[i].x()), static_cast<float>(px[i].y()));
    }
    AddHomography(view, mm, px);
    board.views.push_back(std::move(view));
  }
  return board;
}

// The public pictures that OpenCV ships, against OpenCV's own calibration of the same corners and
// against the result published with them.
TEST(AdjustCameraTest, AgreesWithOpenCvOnItsChessboard) {
  const Board board = ReadBoard();
  ASSERT_EQ(board.views.size(), 9u);
  cv::Mat k = cv::Mat::eye(3, 3, CV_64F), distortion, sd, sd_views, errors;
  std::vector<cv::Mat> turns, places;
  const double rms =
      cv::calibrateCamera(board.object, board.image, cv::Size(640, 480), k, distortion, turns,
                          places, sd, sd_views, errors, cv::CALIB_FIX_K3);
  AdjustOptions options;
  options.width = 640;
  options.height = 480;
  options.card = RigidTargetPrior();
  options.card.half_width_mm = 100;
  options.card.half_height_mm = 62.5;
  const auto ours = AdjustCamera(board.views, options);
  ASSERT_THAT(ours, IsOk());
  EXPECT_LT(rms, 0.5);  // OpenCV is content with its corners
  const double sd_of_difference =
      std::hypot(ours->camera.focal_rel_sd * ours->camera.fx, sd.at<double>(0));
  EXPECT_NEAR(ours->camera.fx, k.at<double>(0, 0), 2 * sd_of_difference);
  EXPECT_NEAR(ours->camera.fx / k.at<double>(0, 0), 1, 0.003);
  EXPECT_NEAR(ours->camera.fy / k.at<double>(1, 1), 1, 0.003);
  EXPECT_NEAR(ours->camera.cx, k.at<double>(0, 2), 3);
  EXPECT_NEAR(ours->camera.cy, k.at<double>(1, 2), 3);
  EXPECT_NEAR(ours->camera.distortion[0], distortion.at<double>(0), 0.01);
  // left_intrinsics.yml, beside the pictures (read): 535.92 px from 13 pictures, of which these
  // are 9.
  EXPECT_NEAR(ours->camera.fx / 535.92, 1, 0.01);
  EXPECT_LT(ours->rms_px, 0.2);
}

TEST(AdjustCameraTest, SaysWhatIsMissing) {
  std::mt19937_64 random(3);
  const CameraIntrinsics camera = drawn::DrawCamera(random);
  std::vector<CardView> views;
  for (const CardPose& pose : drawn::DrawPoses(camera, 12, random)) {
    views.push_back(PlainView(camera, pose, 0.05, random));
  }
  AdjustOptions options = OptionsFor(camera, PlainCardPrior());
  const std::vector<CardView> two(views.begin(), views.begin() + 2);
  EXPECT_THAT(AdjustCamera(two, options),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("2 pictures")));
  std::vector<CardView> poor = views;
  poor[4].edge_points.resize(5);
  EXPECT_THAT(AdjustCamera(poor, options), FailsWith(ErrorCode::kInsufficient, HasSubstr("eight")));
  options.width = 0;
  EXPECT_THAT(AdjustCamera(views, options), FailsWith(ErrorCode::kBadValue, HasSubstr("size")));
  EXPECT_THAT(CalibrateCamera(two, camera.width, camera.height, CardKind::kPlain),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("2 pictures")));
}

// Square views hold no focal length: it must not be claimed.
TEST(AdjustCameraTest, ViewsWithoutTiltAreNotEnough) {
  std::mt19937_64 random(4);
  CameraIntrinsics camera = drawn::DrawCamera(random);
  camera.distortion = {};
  std::vector<CardView> views;
  for (int i = 0; i < 12; ++i) {
    CardPose pose;
    const int line = i / 4;
    pose.middle_in_camera_mm = {-40.0 + 25 * (i % 4), -20.0 + 20 * line, 240.0 + 4 * i};
    views.push_back(PlainView(camera, pose, 0.1, random));
  }
  const auto found = CalibrateCamera(views, camera.width, camera.height, CardKind::kPlain);
  if (found) {
    EXPECT_NE(found->verdict, CameraVerdict::kGood) << found->reason;
    EXPECT_GT(found->adjustment.camera.focal_rel_sd, 0.01);
  } else {
    EXPECT_THAT(found, FailsWith(ErrorCode::kInsufficient, HasSubstr("tilt")));
  }
}

}  // namespace
}  // namespace nearpoint
