// A photograph of a real face: the portrait of the astronaut Eileen Collins by NASA, in the public
// domain, as Debian's package python3-skimage carries it (skimage.data.astronaut: "No known
// copyright restrictions, released into the public domain"). Positions were read off the enlarged
// picture by eye; half a pixel of the original is what an eye can tell.
#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "models/landmark_model.h"
#include "vision/distance/shortest_distance.h"
#include "vision/eyes/limbus_fit.h"
#include "vision/face/face_finder.h"
#include "vision/pipeline/tracker.h"

namespace nearpoint {
namespace {

constexpr const char* kPortrait = "/usr/lib/python3/dist-packages/skimage/data/astronaut.png";
const Eigen::Vector2d kRightIris(203.2, 100.8),
    kLeftIris(246.2, 102.9);  // the patient's, in the original picture
constexpr double kIrisRadius = 3.9;

class Portrait : public ::testing::Test {
 protected:
  void SetUp() override {
    picture_ = cv::imread(kPortrait);
    ASSERT_FALSE(picture_.empty())
        << "The portrait is missing: install python3-skimage, which app/packages.txt lists.";
  }

  // The part of the original around `centre`, enlarged to a webcam picture and blurred as a near
  // fixed-focus lens does.
  [[nodiscard]] cv::Mat Enlarged(const Eigen::Vector2d& centre, double factor,
                                 double blur_px) const {
    cv::Mat out;
    const cv::Mat map = (cv::Mat_<double>(2, 3) << factor, 0, 639.5 - factor * centre.x(), 0,
                         factor, 359.5 - factor * centre.y());
    cv::warpAffine(picture_, out, map, cv::Size(1280, 720), cv::INTER_CUBIC, cv::BORDER_REPLICATE);
    if (blur_px > 0) cv::GaussianBlur(out, out, cv::Size(), blur_px);
    return out;
  }
  static Eigen::Vector2d At(const Eigen::Vector2d& original, const Eigen::Vector2d& centre,
                            double factor) {
    return factor * (original - centre) + Eigen::Vector2d(639.5, 359.5);
  }

  cv::Mat picture_;
};

Profile PopulationProfile() {
  Profile profile;
  profile.camera.width = 1280;
  profile.camera.height = 720;
  profile.camera.fx = profile.camera.fy = 1004.6;
  profile.camera.cx = 639.5;
  profile.camera.cy = 359.5;
  // The person in the photograph looks at a camera metres away, however much the picture is
  // enlarged.
  profile.target_mm = {0, 0, -2000};
  return profile;
}

TEST_F(Portrait, FaceLandmarksAndIrisesAreWhereAPersonSeesThem) {
  const auto model = FindLandmarkModel();
  ASSERT_TRUE(model);
  auto tracker =
      Tracker::Create(PopulationProfile(), {*model, *FindEyeFinderModel(), *FindEyeReaderModel()});
  ASSERT_TRUE(tracker);
  const Eigen::Vector2d centre(225, 125);
  constexpr double kFactor = 4;
  const auto sample = tracker->Process(Frame(0, Time{}, Enlarged(centre, kFactor, 0)));
  ASSERT_TRUE(sample);
  ASSERT_EQ(sample->mode, TrackMode::kFace);
  ASSERT_TRUE(sample->left_eye && sample->right_eye);
  EXPECT_LT((sample->right_eye->iris_px - At(kRightIris, centre, kFactor)).norm(), kFactor * 0.8);
  EXPECT_LT((sample->left_eye->iris_px - At(kLeftIris, centre, kFactor)).norm(), kFactor * 0.8);
  EXPECT_NEAR(sample->left_eye->iris_major_px, 2 * kIrisRadius * kFactor,
              0.15 * 2 * kIrisRadius * kFactor);
  // A picture to look at: build/portrait-overlay.png.
  cv::Mat overlay = Enlarged(centre, kFactor, 0);
  for (const auto& eye : {sample->left_eye, sample->right_eye}) {
    cv::circle(overlay, cv::Point2d(eye->iris_px.x(), eye->iris_px.y()),
               static_cast<int>(eye->iris_major_px / 2), cv::Scalar(0, 255, 0));
  }
  const auto finder = FaceFinder::Load(*model);
  ASSERT_TRUE(finder);
  cv::Mat grey;
  cv::cvtColor(Enlarged(centre, kFactor, 0), grey, cv::COLOR_BGR2GRAY);
  const auto box = finder->Detect(grey, 2);
  ASSERT_TRUE(box);
  for (const auto& p : finder->Fit(grey, *box))
    cv::circle(overlay, cv::Point2d(p.x(), p.y()), 2, cv::Scalar(255, 200, 0), -1);
  cv::imwrite("portrait-overlay.png", overlay);
}

// Eye regions of the photograph, enlarged until the face no longer fits and blurred as a near
// picture is: real lids, lashes and skin. There is no truth for the distance; checked is that both
// irises are followed where they are while the picture grows as in an approach.
TEST_F(Portrait, NearPicturesOfRealSkinAreFollowedAsTwoIrises) {
  const auto model = FindLandmarkModel();
  ASSERT_TRUE(model);
  auto tracker =
      Tracker::Create(PopulationProfile(), {*model, *FindEyeFinderModel(), *FindEyeReaderModel()});
  ASSERT_TRUE(tracker);
  const Eigen::Vector2d centre = (kRightIris + kLeftIris) / 2;
  int frames = 0, both = 0, near_frames = 0, wrong = 0, gap = 0, longest_gap = 0;
  for (double factor = 4; factor < 19; factor *= 1.01) {
    const auto sample = tracker->Process(
        Frame(frames, Time(frames * 33'333'333LL), Enlarged(centre, factor, factor / 4)));
    ++frames;
    ASSERT_TRUE(sample);
    if (factor < 10) continue;  // the face leaves the picture
    ++near_frames;
    const double radius = kIrisRadius * factor;
    for (const bool left : {true, false}) {
      const auto& eye = left ? sample->left_eye : sample->right_eye;
      if (!eye) continue;
      const Eigen::Vector2d there = At(left ? kLeftIris : kRightIris, centre, factor);
      wrong += (eye->iris_px - there).norm() > 0.4 * radius ||
               std::abs(eye->iris_major_px / (2 * radius) - 1) > 0.25;
    }
    if (sample->left_eye && sample->right_eye) {
      ++both;
      gap = 0;
    } else {
      longest_gap = std::max(longest_gap, ++gap);
    }
  }
  std::printf("near pictures of a real face: both irises in %d of %d, longest gap %d\n", both,
              near_frames, longest_gap);
  EXPECT_EQ(wrong, 0);
  EXPECT_LE(longest_gap, 1);  // a single frame; the instrument must resume within three
  EXPECT_GE(both, near_frames * 9 / 10);
}

}  // namespace
}  // namespace nearpoint
