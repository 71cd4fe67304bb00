#include "vision/camera/camera_mode.h"

#include <gmock/gmock.h>

#include <vector>

namespace nearpoint {
namespace {

// The modes of an ordinary webcam: plain pixels are slow at full size, MJPEG is not.
const std::vector<CameraMode> kOrdinary{
    {{640, 480}, 30, false},  {{1280, 720}, 10, false}, {{1920, 1080}, 5, false},
    {{640, 480}, 30, true},   {{1280, 720}, 60, true},  {{1920, 1080}, 30, true},
    {{3840, 2160}, 30, true},
};

TEST(ChooseModeTest, TakesTheLargestThatStillComesThirtyTimes) {
  const auto mode = ChooseMode(kOrdinary, std::nullopt);
  ASSERT_TRUE(mode);
  EXPECT_EQ(mode->size, (ImageSize{1920, 1080}));
  EXPECT_TRUE(mode->mjpeg);
}

TEST(ChooseModeTest, PrefersFullRateOverSize) {
  const std::vector<CameraMode> modes{{{1280, 720}, 30, true}, {{1920, 1080}, 15, true}};
  EXPECT_EQ(ChooseMode(modes, std::nullopt)->size, (ImageSize{1280, 720}));
}

TEST(ChooseModeTest, CountsTheTelevisionRateAsThirty) {
  const std::vector<CameraMode> modes{{{640, 480}, 60, true}, {{1280, 720}, 30000.0 / 1001, true}};
  EXPECT_EQ(ChooseMode(modes, std::nullopt)->size, (ImageSize{1280, 720}));
}

TEST(ChooseModeTest, TakesTheFastestWhereNothingComesThirtyTimes) {
  const std::vector<CameraMode> modes{
      {{1920, 1080}, 5, false}, {{640, 480}, 20, false}, {{800, 600}, 20, false}};
  EXPECT_EQ(ChooseMode(modes, std::nullopt)->size, (ImageSize{800, 600}));
}

TEST(ChooseModeTest, TakesTheWantedSizeOnly) {
  const auto mode = ChooseMode(kOrdinary, ImageSize{1280, 720});
  ASSERT_TRUE(mode);
  EXPECT_EQ(mode->size, (ImageSize{1280, 720}));
  EXPECT_EQ(mode->frames_per_second, 60);
  EXPECT_FALSE(ChooseMode(kOrdinary, ImageSize{1024, 768}));
}

TEST(ChooseModeTest, KnowsNothingOfACameraWithoutModes) {
  EXPECT_FALSE(ChooseMode({}, std::nullopt));
  EXPECT_FALSE(ChooseMode({}, ImageSize{640, 480}));
}

}  // namespace
}  // namespace nearpoint
